/** The channels between preload and main process. Nobody else sends or hears on them. */

export const CHANNELS = {
  ask: 'linekeeper:ask',
  /** The page has its listener in place and may be told what waited for it. */
  listening: 'linekeeper:listening',
  push: 'linekeeper:push',
} as const;

/** The name under which the page finds its two functions. */
export const EXPOSED_NAME = 'linekeeper';
