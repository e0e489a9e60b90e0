// SPDX-License-Identifier: MIT
import type { Platewright } from '../node/api.js';

export * from '../node/api.js';

/** Makes the library of platewright.wasm: its bytes, or the compiled module. */
export function load(source: BufferSource | WebAssembly.Module): Promise<Platewright>;
