/** Where the line-up allowance reaches. Source: `grading.md`, "Intervals": "once per change", around it. */

import { describe, expect, test } from 'vitest';
import { bar, C_DORIAN, C_IONIAN, formOf, gradeLine } from '../../helpers/hand-made.ts';

/** Eight slots over each palette; both boundaries, in the middle and at the end of a chorus, are changes. */
const two = formOf([bar(C_IONIAN), bar(C_DORIAN)]);
const HOME = 'C4';

/**
 * A line on one tone of both palettes, for so many slots, with outside notes put in that each resolve by a semitone: C sharp
 * into the C after it. What each of them got: `lineUp`, or the fault.
 */
function verdictsOf(level: 'leaps' | 'free', slots: number, ...outside: readonly number[]) {
  const line = Array.from({ length: slots }, (_, slot) => ({
    name: outside.includes(slot) ? 'C#4' : HOME,
  }));
  const report = gradeLine(two, line, {
    ...{ level, lineUp: 'allow', approach: 'flag', anticipation: 'flag', repeats: 'allow' },
  });
  return outside.map((slot) => {
    const { faults = [], marks = [] } = report.slots[slot] ?? {};
    return [...marks, ...faults].join(' ');
  });
}

describe.each(['leaps', 'free'] as const)('at %s the allowance reaches', (level) => {
  test.each([
    [6, 'outside'],
    [7, 'lineUp'],
    [8, 'lineUp'],
    [9, 'lineUp'],
    [10, 'outside'],
    [14, 'outside'],
    [15, 'lineUp'],
    [16, 'lineUp'],
    [17, 'lineUp'],
    [18, 'outside'],
    [23, 'lineUp'],
    [25, 'lineUp'],
    [26, 'outside'],
  ])('slot %i: %s', (slot, expected) => {
    expect(verdictsOf(level, 32, slot)).toEqual([expected]);
  });

  test.each([0, 1, 2])('not slot %i of the take, whose chord was not changed to', (slot) => {
    expect(verdictsOf(level, 32, slot)).toEqual(['outside']);
  });

  test('once for each change, the first that needs it', () => {
    expect(verdictsOf(level, 32, 7, 9)).toEqual(['lineUp', 'outside']);
    expect(verdictsOf(level, 32, 9, 15)).toEqual(['lineUp', 'lineUp']);
    expect(verdictsOf(level, 32, 15, 17, 23)).toEqual(['lineUp', 'outside', 'lineUp']);
  });
});

describe.each(['leaps', 'free'] as const)('at %s over a form without a change', (level) => {
  test('there is none', () => {
    const one = formOf([bar(C_IONIAN)]);
    const report = gradeLine(one, 'C#4 C4 C4 C4 C4 C4 C4 C#4 C4 C4', {
      ...{ level, lineUp: 'allow', approach: 'flag', repeats: 'allow' },
    });
    expect(report.summary.outside).toBe(2);
  });
});

test('at free a change is passed whose chord has no note of its own', () => {
  const three = formOf([bar(C_IONIAN), bar(C_DORIAN), bar(C_IONIAN)]);
  const line = Array.from({ length: 24 }, (_, slot) => {
    if (slot >= 8 && slot < 16) return null;
    return { name: slot === 16 ? 'C#4' : HOME };
  });
  const report = gradeLine(three, line, {
    ...{ level: 'free', lineUp: 'allow', approach: 'flag', repeats: 'allow' },
  });
  expect(report.slots[8]?.marks).toEqual(['lineUp']);
  expect(report.changes.map(({ slot, arrival }) => [slot, arrival])).toEqual([
    [8, 'unproven'],
    [8, 'unproven'],
  ]);
});

test('one allowance excuses one thing: of a note a third away and outside as well, `outside` stays', () => {
  // F# lies four semitones above D, in neither palette, and resolves by a semitone: at the change in slot 8.
  const { slots } = gradeLine(two, 'C4 D4 E4 F4 E4 D4 C4 D4 F#4 G4 F4');
  expect([slots[8]?.faults, slots[8]?.marks]).toEqual([['outside'], ['lineUp']]);
});
