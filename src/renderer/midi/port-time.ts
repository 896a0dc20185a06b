/** When the events of a port happened, on the page's clock. Pure. */

/**
 * A time stamp further back than this is none: what a port delivers, it delivers within milliseconds. Own rule.
 */
export const OLDEST_MS = 1000;

export interface PageMoment {
  readonly nowMs: number;
  /** When the page was last seen at work: what came while it was held up has its stamp from before. */
  readonly aliveMs: number;
}

/**
 * The times of one port's events, in their order. A stamp is believed that lies between `OLDEST_MS` before the page was
 * last at work and now; any other (none, 0, not a number, ahead, from long ago) gives way to the time of arrival. Time
 * does not go back within a port.
 */
export function createPortTime(): (stampMs: number | undefined, moment: PageMoment) => number {
  let lastMs = 0;
  return (stampMs, { nowMs, aliveMs }) => {
    const isSound =
      stampMs !== undefined &&
      stampMs > 0 &&
      stampMs <= nowMs &&
      stampMs >= Math.min(nowMs, aliveMs) - OLDEST_MS;
    lastMs = Math.max(lastMs, isSound ? stampMs : nowMs);
    return lastMs;
  };
}
