/** A fault planted in a clean line is found, and nothing else is. Own rules; lines are random walks by step. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Fault } from '../../../src/core/words.ts';
import type { PlayedNote } from '../../helpers/hand-made.ts';
import { bar, C_DORIAN, C_IONIAN, faultsOf, formOf, gradeLine } from '../../helpers/hand-made.ts';

const form = formOf([bar(C_IONIAN), bar(C_DORIAN), bar(C_IONIAN), bar(C_DORIAN)]);
const SLOTS = 32;
const IONIAN = ['C', 'D', 'E', 'F', 'G', 'A', 'B'];
const DORIAN = ['C', 'D', 'Eb', 'F', 'G', 'A', 'Bb'];

/**
 * A line by step over the form, as degrees that turn where told to; every change is proven by its first Eb/E or
 * Bb/B, since the degrees walk through all of the scale, and each onset is off by less than the tolerance.
 */
const cleanLine: fc.Arbitrary<readonly PlayedNote[]> = fc
  .record({
    turns: fc.array(fc.boolean(), { minLength: SLOTS, maxLength: SLOTS }),
    offsMs: fc.array(fc.double({ min: -60, max: 60, noNaN: true }), {
      minLength: SLOTS,
      maxLength: SLOTS,
    }),
    start: fc.integer({ min: 2, max: 10 }),
  })
  .map(({ turns, offsMs, start }) => {
    let degree = start;
    let direction = 1;
    return turns.map((turn, slot) => {
      if (slot > 0) {
        if (turn || degree + direction < 0 || degree + direction > 14) direction = -direction;
        if (degree + direction < 0 || degree + direction > 14) direction = -direction;
        degree += direction;
      }
      const scale = Math.floor(slot / 8) % 2 === 0 ? IONIAN : DORIAN;
      const octave = 4 + Math.floor(degree / 7);
      return { name: `${scale[degree % 7]}${octave}`, offMs: offsMs[slot] ?? 0 };
    });
  });

const settings = { lineUp: 'flag' } as const;
const slot = fc.integer({ min: 2, max: SLOTS - 3 });

function faultsWith(
  line: readonly PlayedNote[],
  at: number,
  note: PlayedNote | null,
): readonly string[] {
  return faultsOf(gradeLine(form, [...line.slice(0, at), note, ...line.slice(at + 1)], settings));
}

function only(at: number, ...faults: readonly Fault[]): readonly string[] {
  return Array.from({ length: SLOTS }, (_, index) => (index === at ? faults.join('+') : ''));
}

describe('in a clean line by step', () => {
  test('nothing is found where nothing is planted', () => {
    fc.assert(
      fc.property(cleanLine, (line) => {
        const report = gradeLine(form, line, settings);
        expect(faultsOf(report)).toEqual(Array(SLOTS).fill(''));
        expect(report.extras).toEqual([]);
        expect(report.summary.changes.late).toBe(0);
      }),
    );
  });

  test('a missing eighth is one gap', () => {
    fc.assert(
      fc.property(cleanLine, slot, (line, at) => {
        expect(faultsWith(line, at, null)).toEqual(only(at, 'gap'));
      }),
    );
  });

  test('an onset beyond the tolerance is late or early there and nowhere else', () => {
    fc.assert(
      fc.property(
        cleanLine,
        slot,
        fc.integer({ min: 76, max: 240 }),
        fc.boolean(),
        (line, at, offMs, isLate) => {
          const note = line[at];
          if (!note) throw new Error('the line has a note in every slot');
          const planted = { ...note, offMs: isLate ? offMs : -offMs };
          expect(faultsWith(line, at, planted)).toEqual(only(at, isLate ? 'late' : 'early'));
        },
      ),
    );
  });

  test('a note of no palette is outside', () => {
    fc.assert(
      fc.property(cleanLine, slot, (line, at) => {
        const faults = faultsWith(line, at, { name: 'F#4' });
        expect(faults[at]).toContain('outside');
        // A wrong note may make the intervals into and out of it too wide as well, but no other slot is outside.
        const others = faults.filter((fault, index) => index !== at && fault.includes('outside'));
        expect(others).toEqual([]);
      }),
    );
  });

  test('a note an octave off makes two intervals, into it and out of it', () => {
    fc.assert(
      fc.property(cleanLine, slot, (line, at) => {
        const name = line[at]?.name ?? '';
        const octave = Number(name.slice(-1)) + 2;
        const faults = faultsWith(line, at, { name: name.slice(0, -1) + octave });
        expect(faults).toEqual(
          Array.from({ length: SLOTS }, (_, index) =>
            index === at || index === at + 1 ? 'interval' : '',
          ),
        );
      }),
    );
  });

  test('a change begun with the old palette is late by what was planted', () => {
    fc.assert(
      fc.property(fc.integer({ min: 1, max: 7 }), (late) => {
        // Around E and Eb: the change at slot 8 shows in every other note.
        const oldNotes = Array.from({ length: 8 + late }, (_, at) => (at % 2 === 0 ? 'E4' : 'D4'));
        const newNotes = Array.from({ length: 8 }, (_, at) =>
          (at + late) % 2 === 0 ? 'Eb4' : 'D4',
        );
        const report = gradeLine(form, [...oldNotes, ...newNotes].join(' '), settings);
        const lastOld = late % 2 === 0 ? late - 1 : late;
        expect(report.changes[0]).toMatchObject({ arrival: 'late', bySlots: lastOld });
      }),
    );
  });
});
