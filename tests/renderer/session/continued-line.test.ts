/** Examples that go on from an answer. Cases by hand: own rule, written in the module's header. */

import { describe, expect, test } from 'vitest';
import type { Form } from '../../../src/core/chart/index.ts';
import { type LineWish, writeLine } from '../../../src/core/line/index.ts';
import { continuedLine, lastKeyOf } from '../../../src/renderer/session/continued-line.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { C_IONIAN, formOf, gradeLine, symbol } from '../../helpers/hand-made.ts';

const WISH: LineWish = {
  ...{ level: 'steps', choruses: 1, slotsPerBeat: 2, swing: 1, seed: 7, density: 0 },
  register: { lowestMidi: 60, highestMidi: 84 },
  startMidi: null,
  style: 'teaching',
  direction: 0,
};
const FORM = formFromText('| Cmaj7 | Dm7 G7 |');

function firstKey(form: Form, wish: LineWish, lastMidi: number | null): number | undefined {
  const line = continuedLine(form, wish, lastMidi);
  return line.ok ? line.value.notes[0]?.midi : undefined;
}

describe('an example after an answer', () => {
  test.each([60, 65, 72, 79, 84])('goes on by step from key %s', (last) => {
    const first = firstKey(FORM, WISH, last) ?? 0;
    expect(Math.abs(first - last)).toBeGreaterThan(0);
    expect(Math.abs(first - last)).toBeLessThanOrEqual(2);
  });

  test.each([null, 59, 85])(
    'begins freely after %s, which is none or outside the register',
    (last) => {
      expect(continuedLine(FORM, WISH, last)).toEqual(writeLine(FORM, WISH));
    },
  );

  test('begins freely where no clean line goes on from the key', () => {
    // Three semitones from E flat to C and to F sharp, the only tones: at `steps` neither is open.
    const form = formFromText('| C <C F#> |');
    const free = writeLine(form, WISH);
    expect(free.ok).toBe(true);
    expect(writeLine(form, { ...WISH, afterMidi: 63 }).ok).toBe(false);
    expect(continuedLine(form, WISH, 63)).toEqual(free);
  });
});

describe('the last key of an answer', () => {
  const form = formOf([[{ beats: 4, palette: C_IONIAN, symbol: symbol('C6', 'C') }]]);

  test('is the last note of the line, whether slots after it were left out or not', () => {
    expect(lastKeyOf(gradeLine(form, 'C4 D4 E4 F4 G4 A4 B4 C5'))).toBe(72);
    expect(lastKeyOf(gradeLine(form, 'C4 D4 E4 F4 G4 - - -'))).toBe(67);
  });

  test('may be a spare note, and is none of the keys doubled with another', () => {
    const { slots } = gradeLine(form, 'C4 D4 E4 F4 G4 - - -');
    const extra = { midi: 62, slot: 4, reason: 'spare' } as const;
    expect(lastKeyOf({ slots, extras: [{ ...extra, onsetMs: 1e6 }] })).toBe(62);
    expect(lastKeyOf({ slots, extras: [{ ...extra, onsetMs: 1 }] })).toBe(67);
    expect(lastKeyOf({ slots, extras: [{ ...extra, onsetMs: 1e6, reason: 'double' }] })).toBe(67);
  });

  test('is none where nothing was played', () => {
    expect(lastKeyOf({ slots: [], extras: [] })).toBeNull();
  });
});
