/** The same practice in the next key of a cycle. Pure. */

import type { TakeSetUp } from '../../../shared/bridge/index.ts';
import {
  type Form,
  parseKeyText,
  prepareForm,
  transposeToEasierKey,
} from '../../core/chart/index.ts';
import { type KeyCycle, nextKey } from '../../core/plan/index.ts';
import { formatKey } from '../../core/theory/index.ts';
import { withSigns } from '../look/signs.ts';

export interface InNextKey {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  /** What the player is told before the count-in. */
  readonly sentence: string;
}

/**
 * The form and set-up of the take that follows. `firstKey` is where the cycle began, `seed` the order of a random one;
 * null where the chart cannot be moved there, which no chart that is being played meets.
 */
export function inNextKey(
  setUp: TakeSetUp,
  firstKey: string,
  cycle: KeyCycle,
  seed: number,
): InNextKey | null {
  const [first, present] = [parseKeyText(firstKey), parseKeyText(setUp.key)];
  if (!first.ok || !present.ok) return null;
  const { chartText, plan, bars } = setUp;
  const next = nextKey(first.value, present.value, cycle, seed);
  const named = prepareForm(chartText, { plan, key: formatKey(next), bars });
  if (!named.ok) return null;
  const key = formatKey(transposeToEasierKey(named.value.chart).key);
  const prepared = key === named.value.key ? named : prepareForm(chartText, { plan, key, bars });
  if (!prepared.ok) return null;
  return {
    form: prepared.value.form,
    setUp: { ...setUp, key },
    sentence: `Now in ${withSigns(key)}: a count-in, then on.`,
  };
}
