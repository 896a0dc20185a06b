/** What holds for every written line, by the word of the grader; and what is said where there can be none. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Form } from '../../../src/core/chart/index.ts';
import { gradeTake } from '../../../src/core/grading/index.ts';
import {
  describeLineProblem,
  LINE_STYLES,
  type LineWish,
  MAX_LINE_NOTES,
  takeOfLine,
  writeLine,
} from '../../../src/core/line/index.ts';
import { LEVELS } from '../../../src/core/words.ts';
import { arbitraryForm, arbitraryWish } from '../../helpers/arbitrary-wish.ts';
import { lineOfKeys } from '../../helpers/line-of-keys.ts';
import { runs } from '../../helpers/runs.ts';
import { chartOf, formOf } from '../chart/reading.ts';

const RUNS = runs(2000, 40);
const TEMPO_BPM = 90;

function grade(form: Form, wish: LineWish) {
  const written = writeLine(form, wish);
  if (!written.ok) return { written, report: null };
  const { level, choruses, slotsPerBeat, swing } = wish;
  const report = gradeTake(form, takeOfLine(written.value, TEMPO_BPM), {
    ...{ level, choruses, slotsPerBeat, swing },
    tempo: { kind: 'steady', tempoBpm: TEMPO_BPM },
  });
  return { written, report };
}

describe(`of ${RUNS} lines over random charts, plans, levels, meters and registers`, () => {
  test('each is clean in every slot and in its register, or the place where none can be is told', {
    timeout: 400_000,
  }, () => {
    let written = 0;
    fc.assert(
      fc.property(arbitraryForm, arbitraryWish, (form, wish) => {
        const { written: line, report } = grade(form, wish);
        if (!line.ok || report === null) {
          expect(line.ok ? [] : line.problems.map(({ code }) => code)).toEqual(['blocked']);
          return;
        }
        written++;
        expect(report.slots.flatMap(({ faults }) => faults)).toEqual([]);
        expect(report.extras).toEqual([]);
        expect(report.summary.slots).toBe(line.value.notes.length);
        // At `free` the grader counts notes, and the grid owes none.
        expect(report.summary.unplayed).toBe(0);
        const { lowestMidi, highestMidi } = wish.register;
        const midis = line.value.notes.map(({ midi }) => midi);
        const { closing } = line.value;
        // The grader hears the same closing note, and finds it a tone of what comes next.
        expect(report.closing?.midi).toBe(closing?.midi);
        if (closing !== null) {
          expect(report.closing).toMatchObject({
            chordTone: true,
            chord: closing.chord,
            deviationMs: 0,
          });
          midis.push(closing.midi);
        }
        expect(midis.filter((midi) => midi < lowestMidi || midi > highestMidi)).toEqual([]);
        expect(line.value.notes.map(({ name }) => name)).toEqual(
          report.slots.map(({ note }) => note?.name),
        );
      }),
      { numRuns: RUNS, seed: 20_261_125 },
    );
    // Registers of less than an octave leave some without a line; most have one.
    expect(written).toBeGreaterThan(RUNS * 0.8);
  });
});

describe('the same wish', () => {
  test('gives the same line, another seed another one', () => {
    fc.assert(
      fc.property(arbitraryForm, arbitraryWish, (form, wish) => {
        expect(writeLine(form, wish)).toEqual(writeLine(form, wish));
      }),
      { numRuns: runs(60, 6) },
    );
    const form = formOf(chartOf('title: a\nkey: C\nmeter: 4/4\n| Dm7 | G7 | Cmaj7 | A7 |\n'));
    const midis = (seed: number) => {
      const line = writeLine(form, { ...WISH, seed });
      return line.ok ? line.value.notes.map(({ midi }) => midi).join() : '';
    };
    expect(new Set(Array.from({ length: 20 }, (_, seed) => midis(seed))).size).toBeGreaterThan(15);
  });
});

const WISH: LineWish = {
  level: 'steps',
  choruses: 1,
  slotsPerBeat: null,
  swing: 1,
  register: { lowestMidi: 60, highestMidi: 72 },
  seed: 1,
  density: 0.5,
  startMidi: null,
  style: 'teaching',
  direction: 0,
};

describe('changes', () => {
  test('are shown as early as any clean line can: no line of a small register does it sooner', {
    timeout: 60_000,
  }, () => {
    const bars = fc.array(
      fc.constantFrom('Cmaj7', 'Cm7', 'F7', 'Ebmaj7', 'C7 <altered>', 'Dm7', 'N.C.', 'C7 <C E G>'),
      { minLength: 2, maxLength: 2 },
    );
    fc.assert(
      fc.property(
        bars,
        fc.constantFrom('steps', 'thirds'),
        fc.integer({ min: 60, max: 66 }),
        (chords, level, low) => {
          const form = formOf(chartOf(`title: a\nkey: C\nmeter: 3/4\n| ${chords.join(' | ')} |\n`));
          const register = { lowestMidi: low, highestMidi: low + 4 };
          const wish: LineWish = { ...WISH, level, slotsPerBeat: 1, register };
          const { written, report } = grade(form, wish);
          const best = bestOfAll(form, wish);
          expect(written.ok ? lateness(report) : null).toEqual(best);
        },
      ),
      { numRuns: runs(30, 5) },
    );
  });
});

/** Changes not on time, then notes until each proof, as the grader counts them. */
function lateness(report: ReturnType<typeof gradeTake> | null): number | null {
  if (report === null) return null;
  return report.changes
    .filter(({ arrival }) => arrival !== 'unchanged')
    .reduce((sum, { arrival }) => sum + (arrival === 'onTime' ? 0 : 1), 0);
}

/** The least lateness of every line there is, each graded: the slow definition. Null when none is clean. */
function bestOfAll(form: Form, wish: LineWish): number | null {
  const { lowestMidi, highestMidi } = wish.register;
  const slots = form.bars.length * 3;
  let best: number | null = null;
  const midis: number[] = [];
  const settings = {
    level: wish.level,
    choruses: 1,
    slotsPerBeat: wish.slotsPerBeat,
    tempo: { kind: 'steady', tempoBpm: TEMPO_BPM },
  } as const;
  const gradeOf = (keys: readonly number[]) =>
    gradeTake(form, takeOfLine(lineOfKeys(keys, wish.level, 1), TEMPO_BPM), settings);
  const isHopeless = (keys: readonly number[]): boolean => {
    // An interval fault is told two notes on at the latest, so that early branches can be cut.
    const faults = gradeOf(keys).slots.slice(0, Math.max(0, keys.length - 3));
    return faults.some((slot) => slot.faults.length > 0);
  };
  const walk = (): void => {
    if (best === 0) return;
    if (midis.length > 3 && isHopeless(midis)) return;
    if (midis.length === slots) {
      const report = gradeOf(midis);
      if (report.summary.clean !== slots) return;
      const found = lateness(report);
      if (found !== null && (best === null || found < best)) best = found;
      return;
    }
    for (let midi = lowestMidi; midi <= highestMidi; midi++) {
      midis.push(midi);
      walk();
      midis.pop();
    }
  };
  walk();
  return best;
}

describe('where no line can be', () => {
  const blocked = (bars: string, wish: Partial<LineWish>) => {
    const line = writeLine(formOf(chartOf(`title: a\nkey: C\nmeter: 4/4\n${bars}\n`)), {
      ...WISH,
      ...wish,
    });
    const [problem] = line.ok ? [] : line.problems;
    return problem?.code === 'blocked' ? [problem.rule, problem.bar, problem.beat] : problem?.code;
  };

  test.each([
    [
      'a palette outside the register',
      '| Cmaj7 <C E> |',
      { register: { lowestMidi: 61, highestMidi: 63 } },
      ['register', 1, 1],
    ],
    ['a beginning outside the palette', '| Cmaj7 |', { startMidi: 61 }, ['start', 1, 1]],
    [
      'two tones an octave apart at steps',
      '| C7 <C F#> | F#7 <F# A#> |',
      { register: { lowestMidi: 60, highestMidi: 64 } },
      ['repeat', 1, 1],
    ],
  ] as const)('%s is told', (_, bars, wish, expected) => {
    expect(blocked(bars, wish)).toEqual(expected);
  });

  test('a wish out of range, an empty range and too long a line are told', () => {
    expect(blocked('| C |', { density: 2 })).toBe('wish');
    expect(blocked('| C |', { direction: -2 })).toBe('wish');
    expect(blocked('| C |', { choruses: MAX_LINE_NOTES })).toBe('tooLong');
    const form = formOf(chartOf('title: a\nkey: C\nmeter: 4/4\n| C |\n'));
    const empty = writeLine({ ...form, bars: [] }, WISH);
    expect(empty.ok ? null : empty.problems).toEqual([{ code: 'noBars' }]);
  });
});

describe('a direction', () => {
  const form = formOf(
    chartOf('title: a\nkey: C\nmeter: 4/4\n| Dm7 | G7 | Cmaj7 | A7 | Dm7 | G7 | C6 | C6 |\n'),
  );
  const movesDown = (direction: number): number => {
    const moves = Array.from({ length: 20 }, (_, seed) => {
      const wish: LineWish = { ...WISH, level: 'leaps', style: 'solo', density: 1 / 3, seed };
      const register = { lowestMidi: 60, highestMidi: 84 };
      const line = writeLine(form, { ...wish, register, direction });
      if (!line.ok) throw new Error('no line');
      const midis = line.value.notes.map(({ midi }) => midi);
      return midis.slice(1).map((midi, index) => midi - (midis[index] ?? midi));
    }).flat();
    return moves.filter((move) => move < 0).length / moves.length;
  };

  test('asked for is leant to: mostly down, either way, mostly up', () => {
    expect(movesDown(-1)).toBeGreaterThan(0.6);
    expect(Math.abs(movesDown(0) - 0.5)).toBeLessThan(0.07);
    expect(movesDown(1)).toBeLessThan(0.4);
  });
});

describe('thin charts', () => {
  const over = (bars: string, wish: Partial<LineWish>) =>
    writeLine(formOf(chartOf(`title: a\nkey: Eb\nmeter: 4/4\n${bars}\n`)), { ...WISH, ...wish });
  const CHANGES_EACH_BEAT = '| C7 Db7 D7 Eb7 | E7 F7 Gb7 G7 |';

  test.each(LEVELS)(
    'have a line at %s: only N.C., palettes of two notes, a change every beat',
    (level) => {
      for (const bars of ['| N.C. | N.C. |', '| C7 <C E> | F7 <F A> |', CHANGES_EACH_BEAT]) {
        for (const style of LINE_STYLES) {
          const register = { lowestMidi: 60, highestMidi: 84 };
          const line = over(bars, { level, style, register, density: 1 / 3 });
          const notes = line.ok ? line.value.notes : [];
          if (level !== 'free') expect(notes).toHaveLength(16);
          expect(notes.length).toBeGreaterThan(0);
        }
      }
    },
  );

  test('under N.C. alone the line keeps mostly to the key', () => {
    const inKey = Array.from({ length: 12 }, (_, seed) => {
      const register = { lowestMidi: 60, highestMidi: 84 };
      const line = over('| N.C. | N.C. |', { level: 'leaps', style: 'solo', register, seed });
      return line.ok ? line.value.notes.map(({ midi }) => midi % 12) : [];
    }).flat();
    // E flat major: Eb F G Ab Bb C D.
    const share = inKey.filter((pc) => [3, 5, 7, 8, 10, 0, 2].includes(pc)).length / inKey.length;
    expect(share).toBeGreaterThan(0.85);
  });

  test.each([
    ['one key', { lowestMidi: 60, highestMidi: 60 }],
    ['two keys', { lowestMidi: 60, highestMidi: 61 }],
  ])(
    'a register of %s is too small for a change every beat, in one sentence with its place',
    (_, register) => {
      const line = over(CHANGES_EACH_BEAT, { level: 'thirds', register });
      const problems = line.ok ? [] : line.problems.map(describeLineProblem);
      expect(problems).toHaveLength(1);
      expect(problems[0]).toMatch(/^Chorus 1, bar \d, beat \d \(.+\): .+ Widen the register/u);
    },
  );
});
