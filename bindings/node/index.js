// SPDX-License-Identifier: MIT
import { Platewright } from './api.js';
import { NativeEngine } from './native.js';

export { PlatewrightError } from './api.js';

export default new Platewright(new NativeEngine());
