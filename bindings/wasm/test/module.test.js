// SPDX-License-Identifier: MIT
//
// run_tests.sh names the module and the fixtures in the environment.

import assert from 'node:assert/strict';
import { spawnSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { describe, test } from 'node:test';
import { Worker } from 'node:worker_threads';

import { behaviour } from '../../node/test/behaviour.js';
import { load } from '../platewright.js';

const { MODULE, PORT_ELLERY_IMAGE, PORT_ELLERY_NAMES, EXAMPLES } = process.env;
const image = readFileSync(PORT_ELLERY_IMAGE);
const bytes = readFileSync(MODULE);
const platewright = await load(bytes);

behaviour('WebAssembly', platewright, {
    image,
    names: readFileSync(PORT_ELLERY_NAMES, 'utf8'),
    examples: EXAMPLES,
});

describe('the module', () => {
    const module = new WebAssembly.Module(bytes);

    test('imports nothing', () => {
        assert.deepEqual(WebAssembly.Module.imports(module), []);
    });

    test('exports the library and its memory', () => {
        const names = WebAssembly.Module.exports(module).map((each) => each.name);
        assert.deepEqual(names.filter((name) => !name.startsWith('plw_')).sort(),
            ['_initialize', 'free', 'malloc', 'memory']);
        assert.ok(names.includes('plw_validate'));
    });

    test('can be loaded compiled, more than once', async () => {
        const [one, other] = await Promise.all([load(module), load(module)]);
        const tables = one.tables(image);
        assert.equal(one.validate('S23R6N500123', { tables }).readings[0].scheme,
            'port-ellery-1962');
        assert.equal(other.validate('S23R6N500123').readings.length,
            platewright.validate('S23R6N500123').readings.length);
    });

    test('something else is refused', async () => {
        const empty = Uint8Array.of(0, 97, 115, 109, 1, 0, 0, 0); // a module without anything
        for (const wrong of [new Uint8Array(0), bytes.subarray(0, 1000), image, empty])
            await assert.rejects(load(wrong), { code: 'PLATEWRIGHT_LIBRARY' });
    });

    test('memory that is used up is an error, and the library goes on', async () => {
        const small = await load(module);
        const text = '#'.repeat(small.constants.PLW_MAX_NAMES);
        const kept = [];
        assert.throws(() => {
            for (let round = 0; round < 2000; round++)
                kept.push(small.names(text));
        }, { code: 'PLW_E_MEMORY' });
        kept.forEach((names) => names.close());
        assert.equal(small.grade('3Y86N400001'), platewright.grade('3Y86N400001'));
    });

    test('several threads work at the same time', async () => {
        const script = `
            const { parentPort, workerData } = require('node:worker_threads');
            import(workerData.glue).then(async ({ load }) => {
                const platewright = await load(workerData.module);
                const seen = new Set();
                for (let round = 0; round < 200; round++) {
                    const sequence = workerData.worker * 1000 + round;
                    const number = '3Y86N4' + String(sequence).padStart(5, '0');
                    seen.add(platewright.validate(number).readings[0].number);
                }
                parentPort.postMessage(seen.size);
            });`;
        const glue = new URL('../platewright.js', import.meta.url).href;
        const count = (worker) => new Promise((done, failed) => {
            const started = new Worker(script,
                { eval: true, workerData: { worker, module, glue } });
            started.once('message', done);
            started.once('error', failed);
        });
        const counts = await Promise.all([0, 1, 2, 3].map(count));
        assert.deepEqual(counts, [200, 200, 200, 200]);
    });

    test('the README tells the truth', () => {
        const readme = readFileSync(new URL('../README.md', import.meta.url), 'utf8');
        const [, code] = readme.match(/```js\n([^]*?)```/);
        const [, output] = readme.match(/```text\n([^]*?)```/);
        const run = spawnSync(process.execPath, ['--input-type=module', '--eval', code], {
            cwd: new URL('..', import.meta.url),
            env: { ...process.env, PLATEWRIGHT_WASM: MODULE },
            encoding: 'utf8',
        });
        assert.equal(run.stderr, '');
        assert.equal(run.stdout, output);
    });
});
