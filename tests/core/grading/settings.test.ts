/** What holds where nothing is set. Source: `grading.md`, "Palette", "Intervals" and "Time and grid". */

import { expect, test } from 'vitest';
import { completeSettings } from '../../../src/core/grading/index.ts';
import { STEADY_60 } from '../../helpers/hand-made.ts';

test.each([
  ['steps', { approach: 'flag', repeats: 'flag', lineUp: 'allow', anticipation: 'flag' }],
  ['thirds', { approach: 'allow', repeats: 'flag', lineUp: 'flag', anticipation: 'flag' }],
  ['leaps', { approach: 'allow', repeats: 'allow', lineUp: 'flag', anticipation: 'flag' }],
  ['free', { approach: 'allow', repeats: 'allow', lineUp: 'flag', anticipation: 'allow' }],
] as const)('at %s', (level, allowances) => {
  expect(completeSettings({ level, tempo: STEADY_60 })).toEqual({
    ...allowances,
    ...{ level, tempo: STEADY_60, choruses: null, slotsPerBeat: null, swing: 1 },
    ...{ toleranceMs: null, leftHand: false },
  });
});

test('what is set stays', () => {
  const set = { level: 'steps', tempo: STEADY_60, lineUp: 'flag', leftHand: true } as const;
  expect(completeSettings(set)).toMatchObject(set);
});
