// SPDX-License-Identifier: MIT
import type { Platewright } from './api.js';

export * from './api.js';

/** The installed library. The import fails with a PlatewrightError without it. */
declare const platewright: Platewright;
export default platewright;
