// SPDX-License-Identifier: MIT
//
// The engine for the installed library. Memory is that of the runtime: typed
// arrays, which the garbage collector takes back, and which nothing moves.

import process from 'node:process';

import koffi from 'koffi';

import { libraryError, signatures } from './api.js';

const USUAL = { darwin: 'libplatewright.1.dylib', win32: 'platewright-1.dll' };

const TYPES = {
    i: 'int32_t', u: 'uint32_t', l: 'int64_t', z: 'size_t', p: 'const void *', t: 'const char *',
    v: 'void',
};

function open() {
    const name = process.env.PLATEWRIGHT_LIBRARY || USUAL[process.platform] ||
        'libplatewright.so.1';
    try {
        return koffi.load(name);
    } catch (cause) {
        throw libraryError(`the platewright library cannot be loaded (tried ${name}); install ` +
            'it, or name its file in PLATEWRIGHT_LIBRARY', cause);
    }
}

export class NativeEngine {
    #library = open();
    #functions = new Map();

    #function(name) {
        let found = this.#functions.get(name);
        if (found === undefined) {
            const [result, ...parameters] = signatures[name].split(' ').map((key) => TYPES[key]);
            found = this.#library.func(name, result, parameters);
            this.#functions.set(name, found);
        }
        return found;
    }

    call(name, ...args) {
        return this.#function(name)(...args);
    }

    // Of 64-bit words, so that it is aligned for any object.
    block(size) {
        try {
            return new BigUint64Array(Math.ceil(size / 8));
        } catch {
            return null;
        }
    }

    bytes(block) {
        return new Uint8Array(block.buffer);
    }

    release() {
        // The garbage collector does.
    }

    words(numbers) {
        return BigUint64Array.from(numbers, BigInt);
    }

    word(bytes, offset) {
        return Number(this.address(bytes, offset));
    }

    address(bytes, offset) {
        return new DataView(bytes.buffer, bytes.byteOffset).getBigUint64(offset, true);
    }
}
