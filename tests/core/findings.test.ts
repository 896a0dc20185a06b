/** What a report found that is neither clean nor a fault, in words. Own wording. */

import { expect, test } from 'vitest';
import { findings } from '../../src/core/findings/index.ts';
import { gradeTake } from '../../src/core/grading/index.ts';
import { bar, C_IONIAN, formOf, lineEvents, STEADY_60 } from '../helpers/hand-made.ts';

test('slots that are not judged and the closing note are told, with their places', () => {
  const form = formOf([bar(C_IONIAN)]);
  const take = {
    ...lineEvents(form, [
      ...['C4', 'D4', 'E4', 'F4', 'G4', 'F4', 'E4', 'D4'].map((name) => ({ name })),
      { name: 'C4', offMs: -30 },
    ]),
    breaks: [{ fromMs: 900, toMs: 1400 }],
  };
  const report = gradeTake(form, take, { level: 'steps', tempo: STEADY_60, choruses: 1 });
  const told = findings(report).map(({ title, lines }) => [title, lines.map(({ text }) => text)]);
  expect(told).toContainEqual([
    'Not judged, the sound stood still: 2 slots',
    ['from chorus 1, bar 1, beat 2: 2 slots'],
  ]);
  expect(told).toContainEqual([
    'Closing note',
    ['C4, a chord tone of C0, 30.0 ms before the downbeat'],
  ]);
});
