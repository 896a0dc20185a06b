/** Example choruses are clean by the rules the take after them is graded by. Source of the rules: `grading.md`. */

import { expect, test } from 'vitest';
import { completeSettings, gradeTake } from '../../../src/core/grading/index.ts';
import { RIGHT_HAND_REGISTER, takeOfLine } from '../../../src/core/line/index.ts';
import { exampleLine } from '../../../src/renderer/session/example-chorus.ts';
import { formFromText } from '../../helpers/form-from-text.ts';

const TEMPO_BPM = 120;

test.each([
  ['approach', 'leaps'],
  ['lineUp', 'steps'],
] as const)('with %s flagged at %s', (rule, level) => {
  const form = formFromText('| Cmaj7 | Eb7 | Abmaj7 | Dm7 G7 |');
  const grade = completeSettings({
    ...{ level, choruses: 1, [rule]: 'flag' },
    tempo: { kind: 'steady', tempoBpm: TEMPO_BPM },
  });
  for (let seed = 1; seed <= 20; seed++) {
    const wish = {
      register: RIGHT_HAND_REGISTER,
      style: 'teaching' as const,
      density: 0.25,
      seed,
      lastMidi: null,
    };
    const example = exampleLine(form, grade, wish);
    if (!example.ok) throw new Error(JSON.stringify(example.problems));
    const { summary } = gradeTake(form, takeOfLine(example.value, TEMPO_BPM), grade);
    expect(summary.clean).toBe(summary.slots);
  }
});
