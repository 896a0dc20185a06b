/** The renderer's door to its host. */

import type { Bridge } from '../../../shared/bridge/index.ts';
import { browserBridge } from './browser-bridge.ts';
import { type DesktopFunctions, desktopBridge } from './desktop-bridge.ts';

export { browserBridge, desktopBridge };

declare global {
  interface Window {
    /** There in the desktop host alone. */
    readonly linekeeper?: DesktopFunctions;
  }
}

/** The bridge of whichever host the page is in. */
export function connectBridge(): Bridge {
  const { linekeeper } = window;
  return linekeeper === undefined ? browserBridge() : desktopBridge(linekeeper);
}
