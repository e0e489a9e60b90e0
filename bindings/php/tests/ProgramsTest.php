<?php
// SPDX-License-Identifier: MIT

declare(strict_types=1);

namespace Platewright\Tests;

use Platewright\Car;
use Platewright\Names;
use Platewright\Platewright;

/** What takes programs of their own, or several at once. */
final class ProgramsTest extends TestCase
{
    private const PROGRAM = "echo Platewright\\Platewright::grade('3Y86N400001');";
    private const NOWHERE = '/nowhere/libplatewright.so';
    private const YEARS = ['3Y86N400001' => 1963, 'RM23V0A149789' => 1970, '5F08F100001' => 1965];

    /** A library under test with some functions replaced by this C. */
    private static function alteredLibrary(string $name, string $source): string
    {
        $file = getenv('SCRATCH') . "/$name";
        file_put_contents("$file.c", "#include <stdint.h>\n$source");
        $library = self::library();
        exec((getenv('CC') ?: 'cc') . ' -shared -fPIC -Wl,--no-as-needed '
            . implode(' ', array_map('escapeshellarg', ['-o', "$file.so", "$file.c", $library,
                '-Wl,-rpath,' . dirname($library)])), $lines, $status);
        self::assertSame(0, $status, implode("\n", $lines));
        return "$file.so";
    }

    public function testALibraryThatIsInstalled(): void
    {
        self::assertSame('clear', self::runPhp(self::PROGRAM, [
            'PLATEWRIGHT_LIBRARY' => null, 'LD_LIBRARY_PATH' => dirname(self::library())]));
    }

    public function testAMissingLibraryIsNamed(): void
    {
        $printed = self::runPhp(self::PROGRAM, ['PLATEWRIGHT_LIBRARY' => self::NOWHERE]);
        self::assertStringContainsString('LibraryException', $printed);
        self::assertStringContainsString('cannot be loaded from ' . self::NOWHERE, $printed);
    }

    public function testAProgramCanGoOnWithoutIt(): void
    {
        $code = 'try {' . self::PROGRAM . "}"
            . "catch (Platewright\\LibraryException) { echo 'none'; }";
        self::assertSame('none', self::runPhp($code, ['PLATEWRIGHT_LIBRARY' => self::NOWHERE]));
    }

    public function testAnotherLibraryIsRefused(): void
    {
        $printed = self::runPhp(self::PROGRAM, ['PLATEWRIGHT_LIBRARY' => 'libm.so.6']);
        self::assertMatchesRegularExpression('/LibraryException.*plw_version_number/', $printed);
    }

    public function testAnotherVersionIsRefused(): void
    {
        foreach ([20000, 9999] as $number) {
            $file = self::alteredLibrary(
                "version$number",
                "uint32_t plw_version_number(void) { return $number; }",
            );
            $printed = self::runPhp(self::PROGRAM, ['PLATEWRIGHT_LIBRARY' => $file]);
            self::assertMatchesRegularExpression(
                "/LibraryException.*has number $number /",
                $printed,
            );
        }
    }

    public function testNoMemory(): void
    {
        $file = self::alteredLibrary('memory', '
            int32_t plw_result_new(void **made) { *made = 0; return -4; }
            int32_t plw_car_new(void **made) { *made = 0; return -4; }
            int32_t plw_names_new(void *tables, char *text, long length, void **made)
            { *made = 0; return -4; }');
        foreach (["Platewright::decode('1')", 'new Car()', "new Names('')"] as $call) {
            $code = 'use Platewright\{Car, Names, Platewright, PlatewrightException};'
                . "try { $call; }"
                . 'catch (PlatewrightException $problem) { echo $problem->status; }';
            self::assertSame(
                'PLW_E_MEMORY',
                self::runPhp($code, ['PLATEWRIGHT_LIBRARY' => $file]),
            );
        }
    }

    public function testProcessesSideBySide(): void
    {
        $running = [];
        foreach (self::YEARS as $number => $year) {
            $running[] = self::startPhp("for (\$i = 0; \$i < 200; \$i++) {
                \$reading = Platewright\\Platewright::decode('$number')->readings[0];
                if (\$reading->years !== [$year]) { exit('wrong'); }
            } echo 'good';");
        }
        foreach ($running as [$process, $pipe]) {
            self::assertSame('good', stream_get_contents($pipe));
            proc_close($process);
        }
    }

    public function testFibersSideBySide(): void
    {
        $fibers = [];
        foreach (self::YEARS as $number => $year) {
            $fibers[] = new \Fiber(static function () use ($number, $year): void {
                $names = new Names("field/engine = Motor $year");
                $car = new Car($names);
                for ($i = 0; $i < 50; $i++) {
                    $car->clear()->addPlate('dash', $number);
                    \Fiber::suspend();
                    self::assertSame([$year], $car->compare()->reading->years);
                    \Fiber::suspend();
                    self::assertStringContainsString(
                        "Motor $year",
                        Platewright::explain($number, names: $names),
                    );
                }
            });
        }
        array_walk($fibers, static fn ($fiber) => $fiber->start());
        while (array_filter($fibers, static fn ($fiber) => !$fiber->isTerminated())) {
            array_walk($fibers, static fn ($fiber) => $fiber->isTerminated() ?: $fiber->resume());
        }
    }

    public function testTheReadmePrintsWhatStandsBehindIt(): void
    {
        $count = preg_match_all(
            '/```php\n<\?php\n(.*?)```\n\n```text\n(.*?)```/s',
            file_get_contents(dirname(__DIR__) . '/README.md'),
            $snippets,
            PREG_SET_ORDER,
        );
        self::assertSame(1, $count);
        foreach ($snippets as [, $code, $printed]) {
            self::assertSame($printed, self::runPhp($code));
        }
    }

    public function testComposerFindsTheClasses(): void
    {
        $composer = json_decode(
            file_get_contents(dirname(__DIR__) . '/composer.json'),
            true,
            flags: JSON_THROW_ON_ERROR,
        );
        $folder = $composer['autoload']['psr-4']['Platewright\\'];
        foreach (glob(dirname(__DIR__) . "/$folder*.php") as $file) {
            self::assertTrue(class_exists('Platewright\\' . basename($file, '.php')), $file);
        }
    }
}
