/** What is written as an example and remembered about it. Own rules, no outside source. */

import { describe, expect, test } from 'vitest';
import {
  DRILL_STYLES,
  type LineWish,
  RIGHT_HAND_REGISTER,
  writeDrill,
  writeLine,
} from '../../../src/core/line/index.ts';
import { heardWishOf } from '../../../src/renderer/prepare/heard-wish.ts';
import {
  firstChoice,
  readPracticeChoice,
  storePracticeChoice,
} from '../../../src/renderer/prepare/practice-choice.ts';
import { beginAt, writeExample } from '../../../src/renderer/prepare/written-example.ts';
import { formFromText } from '../../helpers/form-from-text.ts';

const FORM = formFromText('| Dm7 | G7 | Cmaj7 | C6 |');
const WISH: LineWish = {
  ...{ level: 'thirds', choruses: 1, slotsPerBeat: null, swing: 1, seed: 3, density: 0.25 },
  register: RIGHT_HAND_REGISTER,
  startMidi: null,
  style: 'teaching',
  direction: 0,
};

describe('an example', () => {
  test('is a line at the level, or the drill asked for', () => {
    expect(writeExample(FORM, null, WISH)).toEqual(writeLine(FORM, WISH));
    for (const style of DRILL_STYLES) {
      expect(writeExample(FORM, style, WISH), style).toEqual(writeDrill(FORM, style, WISH));
    }
  });

  test.each([null, ...DRILL_STYLES])(
    '%s begins on the key played, or on another one near it',
    (style) => {
      const first = (begin: ReturnType<typeof beginAt>): number => {
        const line = writeExample(FORM, style, { ...WISH, ...begin });
        return line.ok ? (line.value.notes[0]?.midi ?? 0) : 0;
      };
      // F4, the third of the first chord: one every drill can begin on.
      expect(first(beginAt('onKey', 65))).toBe(65);
      const after = first(beginAt('afterKey', 65));
      expect(after).not.toBe(65);
      expect(Math.abs(after - 65)).toBeLessThanOrEqual(5);
      expect(first(beginAt('onKey', null))).toBe(first(beginAt('anywhere', 65)));
    },
  );

  test('that cannot begin on the key says so, with the place', () => {
    for (const style of [null, 'brokenThirds'] as const) {
      const line = writeExample(FORM, style, { ...WISH, level: 'steps', ...beginAt('onKey', 61) });
      if (line.ok) throw new Error('C sharp is not in D dorian');
      expect(line.problems.join(' ')).toMatch(/Chorus 1, bar 1, beat 1 \(Dm7\): .*[Bb]egin/);
    }
  });
});

describe('register, style and shape', () => {
  const chosen = {
    ...firstChoice(),
    exampleStyle: 'solo',
    exampleShape: 'wide',
    exampleRegister: { lowestMidi: 48, highestMidi: 70 },
  } as const;

  test('are remembered, and are those of the example heard in a run', () => {
    const read = readPracticeChoice(storePracticeChoice('x', chosen), 'x');
    expect(read).toEqual(chosen);
    expect(heardWishOf({ ...read, heardFirst: 'toAnswer' })).toEqual({
      purpose: 'toAnswer',
      register: { lowestMidi: 48, highestMidi: 70 },
      style: 'solo',
      density: 1,
    });
    expect(heardWishOf({ ...read, heardFirst: 'nothing' })).toBeNull();
  });

  test.each([
    { lowestMidi: 70, highestMidi: 48 },
    { lowestMidi: 48.5, highestMidi: 70 },
    { lowestMidi: 0, highestMidi: 70 },
    'low',
    null,
  ])('a register of %j is read as the right hand’s, and costs nothing else', (exampleRegister) => {
    const stored = { 'practice x': { ...chosen, exampleRegister, level: 'leaps' } };
    const read = readPracticeChoice(stored, 'x');
    expect(read.exampleRegister).toEqual(RIGHT_HAND_REGISTER);
    expect([read.exampleShape, read.level]).toEqual(['wide', 'leaps']);
  });
});
