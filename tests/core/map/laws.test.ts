/** Laws of the map: counts add up to the notes, two takes to their sum, and the map moves along with chart and takes. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { transposeForm } from '../../../src/core/chart/index.ts';
import { gradeTake, type Report } from '../../../src/core/grading/index.ts';
import {
  addMaps,
  type ChartMap,
  mapOfReport,
  notesOn,
  timesPlayed,
  total,
} from '../../../src/core/map/index.ts';
import { anyForm, anySettings, anyTake } from '../../helpers/arbitrary-take.ts';

function played(report: Report): number {
  return report.slots.filter(({ judged, note }) => judged && note !== null).length;
}

const anyPerformance = fc.record({ form: anyForm, take: anyTake, settings: anySettings });

/** Everything but the places, which are those of the form. */
function countsOf(map: ChartMap) {
  return {
    chords: map.chords.map(({ tones, outside }) => ({ tones, outside })),
    changes: map.changes.map(({ intervals }) => intervals),
    line: [map.runs, map.turns],
  };
}

describe('whatever is played', () => {
  test('each judged note counts once', () => {
    fc.assert(
      fc.property(anyPerformance, ({ form, take, settings }) => {
        const report = gradeTake(form, take, settings);
        const map = mapOfReport(form, report);
        const counted = map.chords.reduce((sum, chord) => sum + notesOn(chord) + chord.outside, 0);
        expect(counted).toBe(played(report));
        for (const { tones } of map.chords) {
          for (const tone of tones) {
            expect(total(tone.keys)).toBe(timesPlayed(tone));
            expect(tone.rising + tone.falling).toBeLessThanOrEqual(timesPlayed(tone));
            expect(tone.arrivals).toBeLessThanOrEqual(timesPlayed(tone));
          }
        }
      }),
    );
  });

  test('two takes are the sum, in either order', () => {
    fc.assert(
      fc.property(anyPerformance, ({ form, take, settings }) => {
        const one = mapOfReport(form, gradeTake(form, take, settings));
        const part = { ...take, events: take.events.slice(0, take.events.length >> 1) };
        const other = mapOfReport(form, gradeTake(form, part, settings));
        const sum = addMaps(one, other);
        expect(sum).toEqual(addMaps(other, one));
        const notes = (map: ChartMap): number =>
          map.chords.reduce((all, chord) => all + notesOn(chord) + chord.outside, 0);
        expect(notes(sum)).toBe(notes(one) + notes(other));
      }),
    );
  });

  test('a chart and a take moved by some semitones move the map along', () => {
    fc.assert(
      fc.property(
        anyPerformance,
        fc.integer({ min: -11, max: 11 }),
        ({ form, take, settings }, by) => {
          fc.pre(take.events.every((event) => !('midi' in event) || isKey(event.midi + by)));
          const moved = {
            ...take,
            events: take.events.map((event) =>
              'midi' in event ? { ...event, midi: event.midi + by } : event,
            ),
          };
          const split = settings.splitMidi ?? null;
          const map = mapOfReport(form, gradeTake(form, take, settings));
          const there = mapOfReport(
            transposeForm(form, by),
            gradeTake(transposeForm(form, by), moved, {
              ...settings,
              ...(split !== null && { splitMidi: split + by }),
            }),
          );
          const expected = countsOf({
            ...map,
            chords: map.chords.map((chord) => ({
              ...chord,
              tones: chord.tones.map((tone) => ({
                ...tone,
                pc: (tone.pc + by + 12) % 12,
                keys: Object.fromEntries(
                  Object.entries(tone.keys).map(([midi, count]) => [
                    String(Number(midi) + by),
                    count,
                  ]),
                ),
              })),
            })),
          });
          expect(countsOf(there)).toEqual(expected);
        },
      ),
    );
  });
});

function isKey(midi: number): boolean {
  return midi >= 0 && midi <= 127;
}
