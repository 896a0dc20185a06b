/** How long the hands have been at it, and whether they are due a break. Pure. */

/** A stretch of playing, ms on any one clock. */
export interface PlayedSpan {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Away from the piano this long is a break. Common practice, no source. */
export const BREAK_MS = 5 * 60_000;

/** Minutes played since the last break, up to now; 0 after a break. Spans are in order. */
export function minutesSinceBreak(spans: readonly PlayedSpan[], nowMs: number): number {
  let playedMs = 0;
  let followedAtMs = nowMs;
  for (const { fromMs, toMs } of spans.toReversed()) {
    if (followedAtMs - toMs >= BREAK_MS) break;
    playedMs += toMs - fromMs;
    followedAtMs = fromMs;
  }
  return playedMs / 60_000;
}

/** What a player is told when a break is due, or null. */
export function breakWords(minutes: number, everyMinutes: number): string | null {
  if (minutes < everyMinutes) return null;
  return `You have played for ${Math.floor(minutes)} minutes. Take a break of five minutes now, and let arms and hands hang. If anything hurts, stop for today; see a medical professional if it does not go away.`;
}
