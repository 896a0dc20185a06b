/** Lines that begin on a key asked for, or go on from one: against every line there is, each graded. */

import { describe, expect, test } from 'vitest';
import type { Form } from '../../../src/core/chart/index.ts';
import { gradeTake } from '../../../src/core/grading/index.ts';
import { type LineWish, takeOfLine, writeLine } from '../../../src/core/line/index.ts';
import { lineOfKeys } from '../../helpers/line-of-keys.ts';
import { someOf } from '../../helpers/runs.ts';
import { chartOf, formOf } from '../chart/reading.ts';

const LEVELS = ['steps', 'thirds', 'leaps'] as const;
const TEMPO = { kind: 'steady', tempoBpm: 90 } as const;
const LOWEST = 60;
const HIGHEST = 66;
const KEYS = Array.from({ length: HIGHEST - LOWEST + 1 }, (_, index) => LOWEST + index);
/** Keys a line goes on from: some below all of these, some above, those between. */
const KEYS_BEFORE = Array.from({ length: 13 }, (_, index) => LOWEST - 3 + index);

const WISH: LineWish = {
  level: 'steps',
  choruses: 1,
  slotsPerBeat: 1,
  swing: 1,
  register: { lowestMidi: LOWEST, highestMidi: HIGHEST },
  seed: 1,
  density: 0.5,
  startMidi: null,
  style: 'teaching',
  direction: 0,
};

/** One bar of three notes. */
function waltz(bars: string): Form {
  return formOf(chartOf(`title: a\nkey: C\nmeter: 3/4\n${bars}\n`));
}

/** Whether the grader finds no fault in the last three of these keys, one for each beat of a form. */
function isClean(form: Form, level: LineWish['level'], midis: readonly number[]): boolean {
  const line = lineOfKeys(midis, level, 1);
  const settings = { level, choruses: 1, slotsPerBeat: 1, tempo: TEMPO } as const;
  const { slots } = gradeTake(form, takeOfLine(line, TEMPO.tempoBpm), settings);
  return slots.slice(-3).every(({ faults }) => faults.length === 0);
}

/** Whether any two keys make a clean line of three with a first one. */
function canGoOn(first: number, clean: (midis: readonly number[]) => boolean): boolean {
  return KEYS.some((second) => KEYS.some((third) => clean([first, second, third])));
}

function outcome(form: Form, wish: LineWish): string {
  const line = writeLine(form, wish);
  if (line.ok) return `begins on ${line.value.notes[0]?.midi}`;
  return line.problems
    .map((problem) =>
      problem.code === 'blocked'
        ? `${problem.rule} ${problem.chorus}.${problem.bar}.${problem.beat}+${problem.sub}`
        : problem.code,
    )
    .join();
}

const PALETTES = ['<C D E F G A B>', '<Db F Gb>', '<C F#>', '<C D Eb F G A B>'];

describe.each(LEVELS)('at %s', (level) => {
  test.each(PALETTES)('over %s a line begins on a key exactly when a clean one can', (palette) => {
    const form = waltz(`| C ${palette} |`);
    for (const startMidi of KEYS) {
      const can = canGoOn(startMidi, (midis) => isClean(form, level, midis));
      const found = outcome(form, { ...WISH, level, startMidi });
      if (can) expect([startMidi, found]).toEqual([startMidi, `begins on ${startMidi}`]);
      else expect(found).toMatch(/^(start 1\.1\.1|(beginning|interval|repeat) 1\.1\.[23])\+0$/);
    }
  });

  test.each(PALETTES)(
    'over %s a line goes on from a key exactly when a clean one can',
    (palette) => {
      const form = waltz(`| C ${palette} |`);
      // A bar before it in which nothing is outside and every interval is a half step.
      const led = waltz(`| N.C. | C ${palette} |`);
      for (const afterMidi of someOf(KEYS_BEFORE, 5)) {
        const bar = [afterMidi, afterMidi + 1, afterMidi];
        const clean = (midis: readonly number[]) => isClean(led, level, [...bar, ...midis]);
        const firsts = KEYS.filter((first) => canGoOn(first, clean));
        const found = outcome(form, { ...WISH, level, afterMidi });
        if (firsts.length > 0) expect(firsts.map((first) => `begins on ${first}`)).toContain(found);
        else
          expect(found).toMatch(
            /^(interval|repeat) 1\.1\.1\+0$|^(beginning|interval|repeat) 1\.1\.[23]\+0$/,
          );
      }
    },
  );
});

describe('at free', () => {
  test('a line begins on every key of the palette, and on no other unless the grader excuses it', () => {
    const form = formOf(chartOf('title: a\nkey: C\nmeter: 4/4\n| Cmaj7 | Dm7 |\n'));
    for (const startMidi of KEYS) {
      const line = writeLine(form, { ...WISH, level: 'free', slotsPerBeat: null, startMidi });
      if (!line.ok) throw new Error(`no line from ${startMidi}`);
      expect(line.value.notes[0]?.midi).toBe(startMidi);
      const report = gradeTake(form, takeOfLine(line.value, 90), {
        ...{ level: 'free', choruses: 1, tempo: TEMPO },
      });
      expect(report.slots.flatMap(({ faults }) => faults)).toEqual([]);
      const isOutside = ![0, 2, 4, 5, 7, 9, 11].includes(startMidi % 12);
      expect(report.slots[0]?.marks).toEqual(isOutside ? ['approach'] : []);
    }
  });
});

describe('what stands in the way is said exactly', () => {
  const form = waltz('| C <C D E F G A B> |');
  const thin = waltz('| C <C D> | C7 <C Gb> |');
  const near = { register: { lowestMidi: 60, highestMidi: 62 } };

  test.each([
    ['the key is not in the palette', form, { startMidi: 61 }, 'start 1.1.1+0'],
    [
      'the key is in it, too far from the one before',
      form,
      { startMidi: 65, afterMidi: 60 },
      'interval 1.1.1+0',
    ],
    ['the key is the one before', form, { startMidi: 64, afterMidi: 64 }, 'repeat 1.1.1+0'],
    ['no key is near the one before', form, { afterMidi: 40 }, 'interval 1.1.1+0'],
    // C4 D4 C4 can only go on Db4 (lined up) C4, and has no third note there; D4 C4 D4 goes on C4 Db4 C4.
    [
      'it leads to a place that another key leads past',
      thin,
      { ...near, startMidi: 60 },
      'beginning 1.2.3+0',
    ],
    ['that other key', thin, { ...near, startMidi: 62 }, 'begins on 62'],
  ] as const)('%s', (_, over, wish, expected) => {
    expect(outcome(over, { ...WISH, ...wish })).toBe(expected);
  });
});
