// SPDX-License-Identifier: MIT
//
// The engine for the WebAssembly build. Its memory is that of the module; a block
// is given back when it is released or when nothing refers to it any more.

import {
    Platewright, PlatewrightError, decoder, libraryError, signatures,
} from '../node/api.js';

class Block {
    constructor(address, size) {
        this.address = address;
        this.size = size;
    }
}

class WasmEngine {
    #exports;
    #lost = new FinalizationRegistry((address) => this.#exports.free(address));

    constructor(exports) {
        this.#exports = exports;
    }

    #memory() {
        return new Uint8Array(this.#exports.memory.buffer);
    }

    // Addresses are unsigned; 0: there is no memory.
    #allocate(size) {
        return this.#exports.malloc(Math.max(size, 1)) >>> 0;
    }

    // Arguments for the module; bytes that are only read are copied in.
    #argument(value, copies) {
        if (value === null)
            return 0;
        if (value instanceof Block)
            return value.address;
        if (!ArrayBuffer.isView(value))
            return value;
        const address = this.#allocate(value.byteLength);
        if (address === 0) {
            throw new PlatewrightError('The memory of the module is used up. (PLW_E_MEMORY)',
                'PLW_E_MEMORY', null);
        }
        copies.push(address);
        this.#memory().set(new Uint8Array(value.buffer, value.byteOffset, value.byteLength),
            address);
        return address;
    }

    #text(address) {
        const memory = this.#memory();
        return decoder.decode(memory.subarray(address, memory.indexOf(0, address)));
    }

    call(name, ...args) {
        const copies = [];
        try {
            const values = args.map((value) => this.#argument(value, copies));
            const value = this.#exports[name](...values);
            switch (signatures[name][0]) {
            case 't': return this.#text(value >>> 0);
            case 'u':
            case 'z': return value >>> 0;
            default: return value;
            }
        } finally {
            copies.forEach((address) => this.#exports.free(address));
        }
    }

    block(size) {
        const address = this.#allocate(size);
        if (address === 0)
            return null;
        const block = new Block(address, size);
        this.#lost.register(block, address, block);
        return block;
    }

    bytes(block) {
        return new Uint8Array(this.#exports.memory.buffer, block.address, block.size);
    }

    release(block) {
        this.#lost.unregister(block);
        this.#exports.free(block.address);
    }

    words(numbers) {
        return Uint32Array.from(numbers);
    }

    word(bytes, offset) {
        return new DataView(bytes.buffer, bytes.byteOffset).getUint32(offset, true);
    }

    address(bytes, offset) {
        return this.word(bytes, offset);
    }
}

export { PlatewrightError } from '../node/api.js';

/** Makes the library of platewright.wasm: its bytes, or the compiled module. */
export async function load(source) {
    let instance;
    try {
        const made = await WebAssembly.instantiate(source, {});
        instance = made.instance ?? made;
    } catch (cause) {
        throw libraryError('this is not the WebAssembly build of platewright', cause);
    }
    instance.exports._initialize?.();
    return new Platewright(new WasmEngine(instance.exports));
}
