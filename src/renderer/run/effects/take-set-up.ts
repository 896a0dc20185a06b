/** The set-up of a take as it is stored: a practice at its tempo, by the keyboard that plays it. Pure. */

import type { TakeSetUp } from '../../../../shared/bridge/index.ts';
import type { WrittenLine } from '../../../core/line/index.ts';
import { modelOf } from '../../../core/score/index.ts';
import type { RunWish } from '../../prepare/run-wish.ts';
import type { Practice } from '../machine.ts';

/** The rules of a practice at its present tempo. */
export function gradeAt({ setUp, tempoBpm }: Practice): TakeSetUp['grade'] {
  return { ...setUp.grade, tempo: { kind: 'steady', tempoBpm } };
}

/** `example` is kept as the model of the take when the player is to play the very same. */
export function takeSetUp(
  practice: Practice,
  example: WrittenLine | null,
  heard: RunWish['heard'],
): TakeSetUp {
  const isModel = example !== null && heard?.purpose === 'toPlayBack';
  return {
    ...practice.setUp,
    grade: gradeAt(practice),
    // The sources of the take say which keyboards play it.
    deviceName: null,
    model: isModel ? modelOf(practice.form, example) : null,
  };
}
