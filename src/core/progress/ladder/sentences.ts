/** Rungs in words. */

import { describeHeld } from '../standing/sentences.ts';
import type { Rung } from './ladder.ts';

/** Where a rung stands, in one sentence, with the tempos it is told from. */
export function describeRung(
  rung: Pick<Rung, 'state' | 'heldBpm' | 'holdsBpm' | 'goalBpm'>,
): string {
  if (rung.state !== 'notBegun') return describeHeld(rung);
  return rung.goalBpm === null
    ? 'Not begun; no goal is set.'
    : `Not begun; the goal is ${rung.goalBpm}.`;
}
