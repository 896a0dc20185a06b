/** The renderer's door to its host. */

export { browserBridge } from './browser-bridge.ts';
