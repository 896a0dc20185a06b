/** What a take tells about its chords: the counts of the report, `reports.md`, "A take: `linekeeper.report/1`", told apart by chord. */

import { describe, expect, test } from 'vitest';
import { takeFiguresSchema } from '../../../shared/bridge/shapes.ts';
import { sliceForm } from '../../../src/core/chart/index.ts';
import { evidenceOf, figuresOf } from '../../../src/core/progress/index.ts';
import { C_DORIAN, C_IONIAN, formOf, gradeLine, symbol } from '../../helpers/hand-made.ts';

const FORM = formOf([
  [
    { beats: 2, palette: C_IONIAN, symbol: symbol('Cmaj7', 'C') },
    { beats: 2, palette: C_DORIAN, symbol: symbol('Cm7', 'C') },
  ],
  [{ beats: 4, palette: C_IONIAN, symbol: symbol('C6', 'C') }],
  [{ beats: 4, palette: null }],
]);
/** Two chords in bar 1, the second with a gap; common tones only into bar 2, and a note outside it. */
const LINE = 'C4 D4 E4 F4 Eb4 D4 - C4 D4 C4 D4 C4 D4 C4 Db4 C4 D4 E4 F4 G4 F4 E4 D4 C4';

function chordsOf(line: string, form = FORM) {
  return evidenceOf(gradeLine(form, line), form, 0).chords ?? [];
}

describe('the chords of a take', () => {
  test('are told apart within a bar, each with its faults and its change', () => {
    expect(chordsOf(LINE)).toEqual([
      {
        ...{ bar: 1, beat: 1, chord: 'Cmaj7', slots: 4, clean: 4, faults: {} },
        arrivals: null,
      },
      {
        ...{ bar: 1, beat: 3, chord: 'Cm7', slots: 4, clean: 3, faults: { gap: 1 } },
        arrivals: { onTime: 1, unproven: 0, lateBySlots: [] },
      },
      {
        ...{ bar: 2, beat: 1, chord: 'C6', slots: 8, clean: 7, faults: { outside: 1 } },
        arrivals: { onTime: 0, unproven: 1, lateBySlots: [] },
      },
      {
        ...{ bar: 3, beat: 1, chord: 'N.C.', slots: 8, clean: 8, faults: {} },
        arrivals: null,
      },
    ]);
  });

  test('keep their bar numbers in a range of bars', () => {
    const range = sliceForm(FORM, 2, 3);
    expect(chordsOf('C4 D4 E4', range).map(({ bar, chord }) => [bar, chord])).toEqual([[2, 'C6']]);
  });

  test('add up to the counts of the bars', () => {
    const report = gradeLine(FORM, `${LINE} ${LINE} C4 D4 Eb4 D4 E4 F4`);
    const { bars, chords = [] } = evidenceOf(report, FORM, 0);
    for (const { bar, slots, clean } of bars) {
      const own = chords.filter((chord) => chord.bar === bar);
      expect(own.reduce((sum, chord) => sum + chord.slots, 0)).toBe(slots);
      expect(own.reduce((sum, chord) => sum + chord.clean, 0)).toBe(clean);
    }
    const gaps = chords.reduce((sum, { faults }) => sum + (faults.gap ?? 0), 0);
    expect(gaps).toBe(report.summary.gap);
  });
});

describe('kept figures', () => {
  const figures = figuresOf(gradeLine(FORM, LINE), FORM);

  test('come back from JSON with their chords', () => {
    const kept = takeFiguresSchema.parse(JSON.parse(JSON.stringify(figures)));
    expect(kept.evidence?.chords).toHaveLength(4);
    expect(kept).toEqual(figures);
  });

  test('of older takes read without them', () => {
    const { chords: _, ...older } = figures.evidence;
    const kept = takeFiguresSchema.parse(
      JSON.parse(JSON.stringify({ ...figures, evidence: older })),
    );
    expect(kept.evidence).toEqual(older);
    expect(kept.evidence?.chords).toBeUndefined();
  });
});
