// SPDX-License-Identifier: MIT
//
// Compiled by tsc, never run.

import { load, PlatewrightError } from '../platewright.js';
import type { Explanation, Platewright } from '../platewright.js';

const platewright: Platewright = await load(new Uint8Array(8));
const answer: Explanation = platewright.validate('3Y86N400001');
console.log(answer.readings[0]?.years.join(), PlatewrightError.name);

// @ts-expect-error: it does not look for the module
await load();
