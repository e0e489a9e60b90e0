<?php
// SPDX-License-Identifier: MIT
//
// For those who do not use Composer: require this file.

declare(strict_types=1);

spl_autoload_register(static function (string $class): void {
    foreach (['Platewright\\Tests\\' => 'tests', 'Platewright\\' => 'src'] as $prefix => $folder) {
        if (str_starts_with($class, $prefix)) {
            $file = strtr(substr($class, strlen($prefix)), '\\', '/');
            if (is_file(__DIR__ . "/$folder/$file.php")) {
                require __DIR__ . "/$folder/$file.php";
            }
            return;
        }
    }
});
