/** A written line as bars of note values: what a staff shows of it, and what a score file holds. */

import {
  beatsPerBar,
  type Form,
  type FormChord,
  formatMeter,
  isCompound,
  type Meter,
} from '../chart/index.ts';
import { defaultSlotsPerBeat } from '../grid/index.ts';
import type { WrittenLine } from './written-line.ts';

export interface MeasureNote {
  /** With its octave: `Eb4`. */
  readonly name: string;
  /** The slot of the line it is. */
  readonly slot: number;
}

export type NoteValue = 'quarter' | 'dottedQuarter' | 'eighth' | 'sixteenth';

/** The notes of one beat: beamed together, a tuplet where their number is not the beat's own. */
export interface LineBeat {
  readonly notes: readonly MeasureNote[];
  readonly value: NoteValue;
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

/** What a beat of so many slots is written as. Source: common notation; tuplets as in any theory primer. */
function writtenAs(meter: Meter, slots: number): Pick<LineBeat, 'value' | 'tuplet'> {
  if (isCompound(meter)) {
    if (slots === 1) return { value: 'dottedQuarter', tuplet: null };
    if (slots === 3) return { value: 'eighth', tuplet: null };
    return { value: 'eighth', tuplet: { played: slots, inTimeOf: 3 } };
  }
  if (slots === 1) return { value: 'quarter', tuplet: null };
  if (slots === 2) return { value: 'eighth', tuplet: null };
  if (slots === 4) return { value: 'sixteenth', tuplet: null };
  return { value: 'eighth', tuplet: { played: 3, inTimeOf: 2 } };
}

/** The bars of all choruses of a line over its form. The line has one note in every slot. */
export function lineMeasures(form: Form, line: WrittenLine): readonly LineMeasure[] {
  const measures: LineMeasure[] = [];
  let slot = 0;
  let meterBefore = '';
  for (let chorus = 1; chorus <= line.choruses; chorus++) {
    for (const { bar, meter, chords } of form.bars) {
      const slotsInBeat = line.slotsPerBeat ?? defaultSlotsPerBeat(meter);
      const beats = Array.from({ length: beatsPerBar(meter) }, (): LineBeat => {
        const notes = line.notes.slice(slot, slot + slotsInBeat);
        slot += slotsInBeat;
        return { notes, ...writtenAs(meter, slotsInBeat) };
      });
      const sign = formatMeter(meter);
      const meterSign = sign === meterBefore ? null : sign;
      measures.push({ chorus, bar, meter, meterSign, beats, chords });
      meterBefore = sign;
    }
  }
  return measures;
}
