/** The closing note of a line, and the changes a line proves. Source: `grading.md`, "Closing note" and "Changes". */

import { describe, expect, test } from 'vitest';
import { type Form, sliceForm } from '../../../src/core/chart/index.ts';
import { gradeTake } from '../../../src/core/grading/index.ts';
import {
  LINE_STYLES,
  type LineWish,
  provableChanges,
  takeOfLine,
  type WrittenLine,
  writeLine,
} from '../../../src/core/line/index.ts';
import { lineMeasures } from '../../../src/core/score/index.ts';
import { starterForms } from '../../reference/line/many-forms.ts';
import { chartOf, formOf } from '../chart/reading.ts';

const WISH: LineWish = {
  ...{ level: 'steps', style: 'teaching', choruses: 1, slotsPerBeat: null, swing: 1, seed: 1 },
  ...{ density: 1 / 3, direction: 0, startMidi: null },
  register: { lowestMidi: 60, highestMidi: 84 },
};
const TEMPO_BPM = 60;

function lineOver(form: Form, wish: Partial<LineWish>): WrittenLine {
  const line = writeLine(form, { ...WISH, ...wish });
  if (!line.ok) throw new Error(JSON.stringify(line.problems));
  return line.value;
}

const overBars = (bars: string): Form => formOf(chartOf(`title: a\nkey: C\nmeter: 4/4\n${bars}\n`));

describe('the closing note', () => {
  const form = overBars('| Dm7 | G7 | Cmaj7 | A7 |');

  test('stands on the downbeat after the last bar, over the first chord of the form', () => {
    const { closing, beats, notes } = lineOver(form, {});
    expect(closing).toMatchObject({ chord: 'Dm7', onsetBeats: 16, durationBeats: 2 });
    expect(beats).toBe(16);
    // D F A C, a step from the last note.
    expect([2, 5, 9, 0]).toContain((closing?.midi ?? 0) % 12);
    expect(Math.abs((closing?.midi ?? 0) - (notes.at(-1)?.midi ?? 0))).toBeLessThanOrEqual(2);
  });

  test('of some bars is over the chord of the bar that follows', () => {
    expect(lineOver(sliceForm(form, 1, 1), {}).closing?.chord).toBe('G7');
    expect(lineOver(sliceForm(form, 4, 4), {}).closing?.chord).toBe('Dm7');
  });

  test('after several choruses comes once, after the last', () => {
    expect(lineOver(form, { choruses: 3 }).closing?.onsetBeats).toBe(48);
  });

  test('there is none where no chord comes next, or none of its tones is in the register', () => {
    expect(lineOver(overBars('| N.C. | C |'), {}).closing).toBeNull();
    const narrow = { lowestMidi: 62, highestMidi: 63 };
    const line = lineOver(overBars('| C7 <C D Eb F G A Bb> |'), {
      level: 'leaps',
      register: narrow,
    });
    expect(line.closing).toBeNull();
  });

  test.each(['steps', 'thirds'] as const)(
    'at %s is reached by an interval of the level',
    (level) => {
      for (const own of starterForms()) {
        for (const style of LINE_STYLES) {
          const { closing, notes } = lineOver(own, { level, style });
          const size = Math.abs((closing?.midi ?? 0) - (notes.at(-1)?.midi ?? 0));
          expect(size).toBeGreaterThan(0);
          expect(size).toBeLessThanOrEqual(level === 'steps' ? 3 : 5);
        }
      }
    },
  );

  test('is a bar of its own on the staff, under its chord, with rests to its end', () => {
    const line = lineOver(form, {});
    const measures = lineMeasures(form, line);
    expect(measures).toHaveLength(5);
    const { bar, chords, beats } = measures[4] ?? { beats: [], chords: [] };
    expect([bar, chords.map(({ symbol }) => symbol?.text)]).toEqual([5, ['Dm7']]);
    expect(beats.flatMap(({ notes }) => notes.map(({ name, value }) => [name, value]))).toEqual([
      [line.closing?.name, 'half'],
      [null, 'quarter'],
      [null, 'quarter'],
    ]);
  });

  test('is heard when the line is played, and the take lasts as long', () => {
    const line = lineOver(form, {});
    const { events, endMs } = takeOfLine(line, TEMPO_BPM);
    expect(events.at(-1)).toMatchObject({
      kind: 'noteOff',
      atMs: 18_000,
      midi: line.closing?.midi,
    });
    expect(endMs).toBe(18_000);
  });
});

describe('changes', () => {
  test.each(['steps', 'thirds'] as const)(
    'that can be proved are proved by lines at %s',
    (level) => {
      for (const form of starterForms()) {
        const isProvable = provableChanges(form, level, 2);
        for (const style of LINE_STYLES) {
          const line = lineOver(form, { level, style });
          const { changes } = gradeTake(form, takeOfLine(line, TEMPO_BPM), {
            ...{ level, choruses: 1 },
            tempo: { kind: 'steady', tempoBpm: TEMPO_BPM },
          });
          const missed = changes.filter(
            ({ bar, beat, arrival }) =>
              arrival !== 'onTime' && arrival !== 'unchanged' && isProvable(bar, beat),
          );
          expect(
            missed.map(({ bar, fromChord, toChord }) => [form.title, bar, fromChord, toChord]),
          ).toEqual([]);
        }
      }
    },
  );
});
