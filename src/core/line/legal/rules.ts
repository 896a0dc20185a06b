/** The rules a line is written under: the grader's settings that bear on notes, and what a diagnosis lifts of them. */

import type { CompleteSettings } from '../../grading/settings.ts';
import type { Allowance, Level } from '../../words.ts';
import type { LineWish, Register } from '../wish.ts';

export interface LegalRules {
  readonly level: Level;
  readonly approach: Allowance;
  readonly repeats: Allowance;
  readonly lineUp: Allowance;
  readonly register: Register;
  readonly startMidi: number | null;
  readonly afterMidi: number | null;
  /** Whether a change is to be shown as early as can be, rather than anywhere on time. */
  readonly earliest: boolean;
  /** Whether outside notes may be used where the grader excuses them; false keeps every note in its palette. */
  readonly outside: boolean;
  /** Whether two-way palettes bind their degrees to a direction; always, except in a diagnosis. */
  readonly twoWay: boolean;
}

/** The rules of a wish under the grader's settings for it. */
export function rulesOf(
  { style, register, startMidi, afterMidi }: LineWish,
  { level, approach, repeats, lineUp }: CompleteSettings,
): LegalRules {
  return {
    level,
    approach,
    repeats,
    lineUp,
    register,
    startMidi,
    afterMidi: afterMidi ?? null,
    earliest: style === 'teaching',
    outside: true,
    twoWay: true,
  };
}
