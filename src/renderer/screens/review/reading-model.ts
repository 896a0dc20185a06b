/** What follows from an answer to a reading. Pure. */

import type { TakeDecision, TakeRecord } from '../../../../shared/bridge/index.ts';
import type { Reading } from '../../../core/grading/index.ts';

/** The swing the player is to have from now on: the one taken, or the one before when that is undone; null where it stays. */
export function keptSwing(
  { setUp, decision: before }: Pick<TakeRecord, 'setUp' | 'decision'>,
  reading: Reading,
  decision: TakeDecision | null,
): number | null {
  const set = setUp.grade.swing;
  if (reading.kind !== 'timing' || reading.value.swing === set) return null;
  if (decision?.choice === 'taken') return reading.value.swing;
  return before?.choice === 'taken' ? set : null;
}

/** The keyboard to calibrate, as far as its name is known; null where the reading has nothing to do with it. */
export function calibratedBy(
  { sources, setUp }: Pick<TakeRecord, 'sources' | 'setUp'>,
  reading: Reading,
): string | null {
  if (reading.kind !== 'timing') return null;
  const [first] = sources;
  const latencyMs = setUp.grade.latencyMs ?? first?.latencyMs ?? 0;
  if (reading.value.latencyMs === latencyMs) return null;
  return first?.name || setUp.deviceName;
}
