/** Moving chart and take together changes nothing but names. Own law, over random charts and takes. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type Chart, transposeChart, unrollForm } from '../../../src/core/chart/index.ts';
import { type GradeSettings, gradeTake, type Report } from '../../../src/core/grading/index.ts';
import type { TakeEvents } from '../../../src/core/take/model.ts';
import { tonePc } from '../../../src/core/theory/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { anySettings, anyTake } from '../../helpers/arbitrary-take.ts';
import { runs } from '../../helpers/runs.ts';

function reportOf(chart: Chart, take: TakeEvents, settings: GradeSettings): Report {
  const form = unrollForm(chart, 'plain');
  if (!form.ok) throw new Error('plain is always there');
  return gradeTake(form.value, take, settings);
}

function moved(take: TakeEvents, semitones: number): TakeEvents {
  return {
    ...take,
    events: take.events.map((event) =>
      'midi' in event ? { ...event, midi: event.midi + semitones } : event,
    ),
  };
}

/** The report with its names taken out and its keys moved back. */
function unnamed(report: Report, semitones: number) {
  return {
    slots: report.slots.map(({ note, faults, marks, nominalMs }) => [
      note && [note.midi - semitones, note.onsetMs, note.durationMs],
      faults,
      marks,
      nominalMs,
    ]),
    extras: report.extras.map((extra) => ({ ...extra, midi: extra.midi - semitones })),
    changes: report.changes.map(({ arrival, bySlots, earlyBy, provenAt, slot }) => [
      arrival,
      bySlots,
      earlyBy,
      provenAt,
      slot,
    ]),
    leftHand: report.leftHand.map(({ verdict, deviationMs }) => [verdict, deviationMs]),
    clean: report.summary.clean,
    timing: report.summary.timing,
  };
}

test('the same line in another key has the same report, up to names', () => {
  fc.assert(
    fc.property(
      arbitraryChart({ maxFifths: 3 }),
      anySettings,
      anyTake,
      fc.integer({ min: -5, max: 6 }),
      (chart, settings, take, fifths) => {
        const pc = tonePc(fifths);
        const semitones = pc > 6 ? pc - 12 : pc;
        // A fixed split would cut another line in two.
        const both = { ...settings, splitMidi: null };
        const there = reportOf(transposeChart(chart, fifths), moved(take, semitones), both);
        expect(unnamed(there, semitones)).toEqual(unnamed(reportOf(chart, take, both), 0));
      },
    ),
    { numRuns: runs(150, 40), seed: 20_261_129 },
  );
});
