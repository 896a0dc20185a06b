/** The review's tables and the preview of a file against sums made another way. Own drawing, no outside source. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gradeTake } from '../../../src/core/grading/index.ts';
import { FAULTS } from '../../../src/core/words.ts';
import {
  downbeatChoices,
  gridFit,
  previewGrid,
} from '../../../src/renderer/screens/open/grid-model.ts';
import { barsInWords } from '../../../src/renderer/screens/review/compare-takes.tsx';
import { chorusRows, faultRows } from '../../../src/renderer/screens/review/heatmap-model.ts';
import { anyForm, anySettings, anyTake } from '../../helpers/arbitrary-take.ts';
import { bar, C_DORIAN, C_IONIAN, formOf, gradeLine, inOrder } from '../../helpers/hand-made.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const sum = (figures: readonly string[]): number =>
  figures.reduce((all, figure) => all + Number(figure), 0);

describe('heatmaps', () => {
  test('each row of faults adds up to the summary, the rows of choruses to the slots not clean', () => {
    fc.assert(
      fc.property(anyForm, anySettings, anyTake, (form, settings, take) => {
        const report = gradeTake(form, take, settings);
        const rows = faultRows(report, form);
        for (const [index, fault] of FAULTS.entries()) {
          const figures = rows[index]?.cells.map(({ figure }) => figure) ?? [];
          expect(sum(figures)).toBe(report.summary[fault]);
        }
        const broken = chorusRows(report, form).flatMap(({ cells }) =>
          cells.map(({ figure }) => figure),
        );
        expect(sum(broken)).toBe(report.summary.slots - report.summary.clean);
      }),
    );
  });

  test('a cell leads to the chorus with most of its faults, an empty one nowhere', () => {
    const form = formOf([bar(C_IONIAN)]);
    const clean = 'C4 D4 E4 F4 G4 F4 E4 D4';
    const report = gradeLine(form, `${clean} C4 D4 - F4 G4 F4 - D4 ${clean}`);
    const [gaps, early] = faultRows(report, form);
    expect(gaps?.cells[0]).toMatchObject({ chorus: 2, figure: '2' });
    expect(early?.cells[0]).toMatchObject({ chorus: null, figure: '' });
  });
});

describe('two takes', () => {
  const form = formOf([bar(C_IONIAN), bar(C_DORIAN)]);
  const clean = gradeLine(form, 'C4 D4 E4 F4 G4 F4 E4 D4 Eb4 D4 C4 D4 Eb4 F4 G4 F4');
  const broken = gradeLine(form, 'C4 D4 E4 F4 G4 F4 E4 D4 Eb4 D4 - - Eb4 F4 G4 F4');

  test('are told apart by the bars that were cleaner in one', () => {
    expect(barsInWords(clean, broken)).toBe('Cleaner here: bar 2.');
    expect(barsInWords(broken, clean)).toBe('Cleaner in the other: bar 2.');
    expect(barsInWords(clean, clean)).toContain('No bar');
  });
});

describe('the preview of a file', () => {
  const form = formOf([bar(C_IONIAN), bar(C_DORIAN)]);
  const { grade } = setUpFor();
  const onGrid = Array.from({ length: 16 }, (_, slot) => ({
    kind: 'noteOn' as const,
    atMs: slot * 500 + 20,
    midi: 60,
    velocity: 80,
  }));

  test('says how far notes lie from the grid', () => {
    expect(gridFit(form, grade, inOrder(onGrid))).toBeCloseTo(20, 6);
    const between = onGrid.map((event) => ({ ...event, atMs: event.atMs + 230 }));
    expect(gridFit(form, grade, inOrder(between))).toBeCloseTo(250, 6);
    expect(gridFit(form, grade, inOrder([]))).toBeNull();
  });

  test('shows four bars with their choruses, and the notes in them', () => {
    const { lines, notes } = previewGrid(form, { ...grade, splitMidi: 61 }, inOrder(onGrid), 1);
    expect(lines.flatMap(({ bar: at }) => (at === null ? [] : [[at.chorus, at.bar]]))).toEqual([
      [1, 2],
      [2, 1],
      [2, 2],
      [3, 1],
    ]);
    expect(lines[0]?.atMs).toBe(4000);
    expect(notes[0]).toMatchObject({ atMs: 3020, isLeftHand: true });
  });

  test('offers the first note as a downbeat, in the file’s own time', () => {
    expect(downbeatChoices(2000, onGrid).map(({ startMs }) => startMs)).toEqual([0, 2000, 2020]);
  });
});
