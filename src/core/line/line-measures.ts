/** A written line as bars of note values: what a staff shows of it, and what a score file holds. */

import {
  beatsPerBar,
  type Form,
  type FormChord,
  formatMeter,
  isCompound,
  type Meter,
} from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import { defaultSlotsPerBeat } from '../grid/index.ts';
import type { BeatRhythm } from './rhythm.ts';
import type { WrittenLine } from './written-line.ts';

export type NoteValue =
  | 'half'
  | 'dottedHalf'
  | 'quarter'
  | 'dottedQuarter'
  | 'eighth'
  | 'sixteenth';

export interface MeasureNote {
  /** With its octave: `Eb4`; null is a rest. */
  readonly name: string | null;
  readonly value: NoteValue;
  /** As a share of the beat; 2 for a half note. */
  readonly length: number;
}

/**
 * What one beat plays: beamed together, a tuplet where the number of its notes is not the beat's own. Without notes while a
 * longer one goes on.
 */
export interface LineBeat {
  readonly notes: readonly MeasureNote[];
  /** How many are played in the time of how many, or null. */
  readonly tuplet: { readonly played: number; readonly inTimeOf: number } | null;
}

export interface LineMeasure {
  readonly chorus: number;
  readonly bar: number;
  readonly meter: Meter;
  /** The meter as it is written when it changes here, else null. */
  readonly meterSign: string | null;
  readonly beats: readonly LineBeat[];
  readonly chords: readonly FormChord[];
}

/** Tuplets and values of a beat of so many even notes. Source: common notation; tuplets as in any theory primer. */
function writtenAs(
  meter: Meter,
  notes: number,
): { readonly value: NoteValue; readonly tuplet: LineBeat['tuplet'] } {
  if (isCompound(meter)) {
    if (notes === 1) return { value: 'dottedQuarter', tuplet: null };
    if (notes === 3) return { value: 'eighth', tuplet: null };
    return { value: 'eighth', tuplet: { played: notes, inTimeOf: 3 } };
  }
  if (notes === 1) return { value: 'quarter', tuplet: null };
  if (notes === 2) return { value: 'eighth', tuplet: null };
  if (notes === 4) return { value: 'sixteenth', tuplet: null };
  return { value: 'eighth', tuplet: { played: 3, inTimeOf: 2 } };
}

/** The bars of all choruses of a line over its form. */
export function lineMeasures(form: Form, line: WrittenLine): readonly LineMeasure[] {
  const measures: LineMeasure[] = [];
  const names = line.notes.map(({ name }) => name).values();
  const nextName = (): string | null => names.next().value ?? null;
  let beatAt = 0;
  let meterBefore = '';
  for (let chorus = 1; chorus <= line.choruses; chorus++) {
    for (const { bar, meter, chords } of form.bars) {
      const slots = line.slotsPerBeat ?? defaultSlotsPerBeat(meter);
      const beats = Array.from({ length: beatsPerBar(meter) }, (): LineBeat => {
        const rhythm = line.rhythm?.[beatAt++];
        return rhythm === undefined
          ? evenBeat(meter, slots, nextName)
          : rhythmBeat(meter, rhythm, nextName);
      });
      const sign = formatMeter(meter);
      const meterSign = sign === meterBefore ? null : sign;
      measures.push({ chorus, bar, meter, meterSign, beats, chords });
      meterBefore = sign;
    }
  }
  return measures;
}

function evenBeat(meter: Meter, slots: number, nextName: () => string | null): LineBeat {
  const { value, tuplet } = writtenAs(meter, slots);
  const notes = Array.from({ length: slots }, () => ({
    name: nextName(),
    value,
    length: 1 / slots,
  }));
  return { notes, tuplet };
}

/** Twelfths of a beat as values: of a simple beat, and of a dotted one. */
const SIMPLE_VALUES: Readonly<Record<number, NoteValue>> = {
  24: 'half',
  12: 'quarter',
  6: 'eighth',
  4: 'eighth',
};
const COMPOUND_VALUES: Readonly<Record<number, NoteValue>> = {
  24: 'dottedHalf',
  12: 'dottedQuarter',
  8: 'quarter',
  4: 'eighth',
};

function rhythmBeat(meter: Meter, rhythm: BeatRhythm, nextName: () => string | null): LineBeat {
  const values = isCompound(meter) ? COMPOUND_VALUES : SIMPLE_VALUES;
  const notes = rhythm.map(({ length, isRest }) => ({
    name: isRest ? null : nextName(),
    value: values[length] ?? 'quarter',
    length: length / TWELFTHS,
  }));
  const isTriplet = !isCompound(meter) && rhythm.length === 3;
  return { notes, tuplet: isTriplet ? { played: 3, inTimeOf: 2 } : null };
}
