/** The tempos on the way to a goal; the step is the raise of `grading.md`: +4 %, at least +2. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { raisedTempoBpm, tempoPlan } from '../../../src/core/progress/index.ts';

test('goes up by the step of a raise, and ends at the goal', () => {
  expect(tempoPlan(60, 70)).toEqual([60, 62, 64, 67, 70]);
  expect(tempoPlan(60, 63)).toEqual([60, 62, 63]);
  expect(tempoPlan(60, 50)).toEqual([60]);
});

test('rises at every step, never by more than a raise', () => {
  const tempo = fc.integer({ min: 30, max: 300 });
  fc.assert(
    fc.property(tempo, tempo, (from, goal) => {
      const plan = tempoPlan(from, goal);
      plan.slice(1).forEach((next, index) => {
        const before = plan[index] ?? 0;
        expect(next).toBeGreaterThan(before);
        expect(next).toBeLessThanOrEqual(raisedTempoBpm(before));
      });
    }),
  );
});
