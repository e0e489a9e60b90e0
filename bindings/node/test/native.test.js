// SPDX-License-Identifier: MIT
//
// run_tests.sh names the fixtures in the environment.

import assert from 'node:assert/strict';
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { after, describe, test } from 'node:test';
import { Worker } from 'node:worker_threads';

import platewright, { PlatewrightError } from 'platewright';

import { behaviour } from './behaviour.js';

const { PORT_ELLERY_IMAGE, PORT_ELLERY_NAMES, EXAMPLES, SCHEMAS, CC = 'cc' } = process.env;
const image = readFileSync(PORT_ELLERY_IMAGE);

behaviour('installed library', platewright, {
    image,
    names: readFileSync(PORT_ELLERY_NAMES, 'utf8'),
    examples: EXAMPLES,
});

const folder = mkdtempSync(join(tmpdir(), 'platewright-'));
after(() => rmSync(folder, { recursive: true }));

// Imports the package in a process of its own, with another library.
function importWith(library) {
    const script = `import('platewright').then(
        (module) => console.log('version', module.default.version),
        (error) => console.log(error.name, error.code, error.message));`;
    const run = spawnSync(process.execPath, ['--input-type=module', '--eval', script], {
        env: { ...process.env, PLATEWRIGHT_LIBRARY: library }, encoding: 'utf8',
    });
    assert.equal(run.status, 0, run.stderr);
    return run.stdout.trim();
}

function fakeLibrary(name, code) {
    const source = join(folder, `${name}.c`);
    const library = join(folder, `lib${name}.so`);
    writeFileSync(source, code);
    execFileSync('sh', ['-c', `${CC} -shared -fPIC -o "$1" "$2"`, 'sh', library, source]);
    return library;
}

describe('which library is loaded', () => {
    test('the one that is named', () => {
        assert.equal(importWith(process.env.PLATEWRIGHT_LIBRARY), `version ${platewright.version}`);
    });

    test('none: an error that says what to do', () => {
        assert.match(importWith(join(folder, 'absent.so')),
            /^PlatewrightError PLATEWRIGHT_LIBRARY .*absent\.so.*PLATEWRIGHT_LIBRARY/);
    });

    test('one of another release', () => {
        for (const number of [9999, 20000, 4000000000]) {
            const library = fakeLibrary(`release${number}`,
                `unsigned plw_version_number(void) { return ${number}u; }\n`);
            assert.match(importWith(library), new RegExp(
                `^PlatewrightError PLATEWRIGHT_LIBRARY .* needs platewright 1\\.x .* ${number}$`));
        }
    });

    test('one of something else', () => {
        assert.equal(importWith(fakeLibrary('other', 'int other(void) { return 0; }\n')),
            'PlatewrightError PLATEWRIGHT_LIBRARY the library found is not platewright');
    });
});

test('memory that is used up is an error with a name', () => {
    // A result of more bytes than an array can have.
    const library = fakeLibrary('greedy', `
        #include <stddef.h>
        unsigned plw_version_number(void) { return 10000; }
        const char *plw_status_name(int status) { return status == -4 ? "PLW_E_MEMORY" : ""; }
        const char *plw_status_text(int status) { (void)status; return "No memory."; }
        unsigned plw_constant_count(void) { return 1; }
        const char *plw_constant_name(unsigned i) { (void)i; return "PLW_E_MEMORY"; }
        long long plw_constant_value(unsigned i) { (void)i; return -4; }
        size_t plw_result_size(void) { return (size_t)1 << 50; }
    `);
    assert.equal(importWith(library), 'PlatewrightError PLW_E_MEMORY No memory. (PLW_E_MEMORY)');
});

test('several threads work at the same time', async () => {
    const script = `
        const { parentPort, workerData } = require('node:worker_threads');
        import(workerData.module).then(({ default: platewright }) => {
        const tables = platewright.tables(workerData.image);
        const seen = new Set();
        for (let round = 0; round < 300; round++) {
            const sequence = String(500001 + workerData.worker * 1000 + round);
            const { number, readings } = platewright.validate('S23R6N' + sequence, { tables });
            const field = readings[0].fields.find((each) => each.field === 'sequence');
            if (number.slice(6) === sequence && field.code === sequence)
                seen.add(number);
            platewright.validate('3Y86N400001');
        }
        parentPort.postMessage(seen.size);
        });`;
    const counts = await Promise.all([0, 1, 2, 3].map((worker) => new Promise((done, failed) => {
        const module = new URL('../index.js', import.meta.url).href;
        const started = new Worker(script, { eval: true, workerData: { worker, image, module } });
        started.once('message', done);
        started.once('error', failed);
    })));
    assert.deepEqual(counts, [300, 300, 300, 300]);
});

test('the README tells the truth', () => {
    const readme = readFileSync(new URL('../README.md', import.meta.url), 'utf8');
    const [, code] = readme.match(/```js\n([^]*?)```/);
    const [, output] = readme.match(/```text\n([^]*?)```/);
    const run = spawnSync(process.execPath, ['--input-type=module', '--eval', code],
        { encoding: 'utf8' });
    assert.equal(run.stderr, '');
    assert.equal(run.stdout, output);
});

test('the types name all that the schemas name', () => {
    const types = readFileSync(new URL('../api.d.ts', import.meta.url), 'utf8');
    const properties = (schema) => Object.entries(schema ?? {}).flatMap(([key, value]) =>
        typeof value !== 'object' ? []
            : key === 'properties' ? [...Object.keys(value), ...properties(value)]
                : properties(value));
    const files = readdirSync(SCHEMAS).filter((name) => name.endsWith('.schema.json'));
    assert.ok(files.length > 1);
    for (const file of files) {
        const schema = JSON.parse(readFileSync(join(SCHEMAS, file), 'utf8'));
        for (const name of properties(schema))
            assert.match(types, new RegExp(`\\b${name}\\??: `), `${name} of ${file}`);
    }
});

test('the error can be told from others', () => {
    assert.throws(() => platewright.tables(new Uint8Array(9)), PlatewrightError);
});
