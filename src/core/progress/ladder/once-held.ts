/** The fastest tempo a practice has ever held at. */

import type { Practice, TempoRecord } from '../history.ts';
import { judgeInShort } from '../readiness.ts';
import { rememberBy } from '../remember.ts';

/**
 * The fastest tempo whose takes met every condition of a raise at the end of any one of them, however long ago; null
 * without any. What held once may hold no longer: `holdsBpm` of the practice tells that.
 */
export function onceHeldBpm({ tempos }: Pick<Practice, 'tempos'>): number | null {
  return fastestHeld(tempos);
}

const fastestHeld = rememberBy((tempos: readonly TempoRecord[]): number | null => {
  const fastestFirst = tempos.toSorted((one, other) => other.tempoBpm - one.tempoBpm);
  return fastestFirst.find(hasHeld)?.tempoBpm ?? null;
});

function hasHeld({ takes }: TempoRecord): boolean {
  const evidence = takes
    .map((take) => take.evidence)
    .toSorted((one, other) => other.playedAtMs - one.playedAtMs);
  return evidence.some(
    ({ playedAtMs }, index) => judgeInShort(evidence.slice(index), playedAtMs).verdict === 'raise',
  );
}
