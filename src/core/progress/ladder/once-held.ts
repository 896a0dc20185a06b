/** The fastest tempo a practice has ever held at. */

import { dayStartMs } from '../days.ts';
import type { PlayedTake, Practice } from '../history.ts';
import type { Played } from '../past.ts';
import { judgeInShort } from '../readiness.ts';
import { rememberBy } from '../remember.ts';

/**
 * The fastest tempo whose takes met every condition of a raise at the end of any one of them, however long ago; null
 * without any. What held once may hold no longer: `holdsBpm` of the practice tells that.
 */
export const onceHeldBpm = rememberBy(({ past, takes }: Played): number | null => {
  const sinceMs =
    past === null ? Number.NEGATIVE_INFINITY : dayStartMs(past.untilDay, past.utcOffsetMinutes);
  const knownBpm = past?.onceHeldBpm ?? null;
  const fastestFirst = [...Map.groupBy(takes, ({ tempoBpm }) => tempoBpm)]
    .filter(([tempoBpm]) => knownBpm === null || tempoBpm > knownBpm)
    .sort(([one], [other]) => other - one);
  const held = fastestFirst.find(([, own]) => hasHeldSince(sinceMs, own));
  return held?.[0] ?? knownBpm;
});

/**
 * The same, of a practice, with the tempo that holds now: it may do so though it did not at the end of any take, once an older one
 * no longer counts.
 */
export function heldBpmOf({
  played,
  holdsBpm,
}: Pick<Practice, 'played' | 'holdsBpm'>): number | null {
  const heldBpm = onceHeldBpm(played);
  return heldBpm === null || holdsBpm === null
    ? (heldBpm ?? holdsBpm)
    : Math.max(heldBpm, holdsBpm);
}

/** Takes at one tempo, newest first. */
function hasHeldSince(sinceMs: number, takes: readonly PlayedTake[]): boolean {
  const evidence = takes.map((take) => take.evidence);
  return evidence.some(
    ({ playedAtMs }, index) =>
      playedAtMs >= sinceMs && judgeInShort(evidence.slice(index), playedAtMs).verdict === 'raise',
  );
}
