// SPDX-License-Identifier: MIT
//
// Puts the page together: one file that needs no server and no network.
//
//     node build_page.js platewright.wasm platewright.html
//
// Its content security policy lets it run this script and this style, and nothing else.

import { createHash } from 'node:crypto';
import { readFileSync, writeFileSync } from 'node:fs';
import process from 'node:process';

const [module, page] = process.argv.slice(2);
const read = (name) => readFileSync(new URL(name, import.meta.url), 'utf8');

// The modules one behind the other: what they import from each other is there already.
function joined(...files) {
    return files.map(read).join('\n')
        .replace(/^(import|export) \{[^}]*\} from '[^']*';\n/gm, '')
        .replace(/^export /gm, '');
}

function allowed(text) {
    return `'sha256-${createHash('sha256').update(text).digest('base64')}'`;
}

const parts = {
    SCRIPT: joined('../node/api.js', 'platewright.js', 'page/page.js'),
    STYLE: read('page/page.css'),
    MODULE: readFileSync(module).toString('base64'),
};
parts.POLICY = `default-src 'none'; script-src ${allowed(parts.SCRIPT)} 'wasm-unsafe-eval'; ` +
    `style-src ${allowed(parts.STYLE)}; base-uri 'none'; form-action 'none'`;

writeFileSync(page, read('page/page.html').replace(/@([A-Z]+)@/g, (_, name) => parts[name]));
