/** A written line as bars of note values: what a staff shows of it. Pure. */

import {
  beatsPerBar,
  type Form,
  formatMeter,
  isCompound,
  type Meter,
} from '../../core/chart/index.ts';
import { defaultSlotsPerBeat } from '../../core/grid/index.ts';
import type { WrittenLine } from '../../core/line/index.ts';

export interface StaffNote {
  /** With its octave: `Eb4`. */
  readonly name: string;
  /** The slot of the line it is. */
  readonly slot: number;
}

/** The notes of one beat: beamed together, a tuplet where their number is not the beat's own. */
export interface StaffBeat {
  readonly notes: readonly StaffNote[];
  /** Note value by the library's name: `q`, `8`, `16`; a dotted quarter is `qd`. */
  readonly value: string;
  /** How many are played in the time of how many, or null. */
  readonly tuplet: { readonly played: number; readonly inTimeOf: number } | null;
}

export interface StaffMeasure {
  readonly chorus: number;
  readonly bar: number;
  readonly meter: Meter;
  /** The meter as it is written when it changes here, else null. */
  readonly meterSign: string | null;
  readonly beats: readonly StaffBeat[];
  /** Chord symbols, each at its beat (from 0); palettes under them. */
  readonly chords: readonly {
    readonly beat: number;
    readonly text: string;
    readonly palette: string;
  }[];
}

/** What a beat of so many slots is written as. Source: common notation; tuplets as in any theory primer. */
function writtenAs(meter: Meter, slots: number): Pick<StaffBeat, 'value' | 'tuplet'> {
  if (isCompound(meter)) {
    if (slots === 1) return { value: 'qd', tuplet: null };
    if (slots === 3) return { value: '8', tuplet: null };
    return { value: '8', tuplet: { played: slots, inTimeOf: 3 } };
  }
  if (slots === 1) return { value: 'q', tuplet: null };
  if (slots === 2) return { value: '8', tuplet: null };
  if (slots === 4) return { value: '16', tuplet: null };
  return { value: '8', tuplet: { played: 3, inTimeOf: 2 } };
}

/** The bars of all choruses of a line over its form. The line has one note in every slot. */
export function lineMeasures(form: Form, line: WrittenLine): readonly StaffMeasure[] {
  const measures: StaffMeasure[] = [];
  let slot = 0;
  let meterBefore = '';
  for (let chorus = 1; chorus <= line.choruses; chorus++) {
    for (const { bar, meter, chords } of form.bars) {
      const slotsInBeat = line.slotsPerBeat ?? defaultSlotsPerBeat(meter);
      const beats = Array.from({ length: beatsPerBar(meter) }, (): StaffBeat => {
        const notes = line.notes.slice(slot, slot + slotsInBeat);
        slot += slotsInBeat;
        return { notes, ...writtenAs(meter, slotsInBeat) };
      });
      const sign = formatMeter(meter);
      measures.push({
        ...{ chorus, bar, meter, beats },
        meterSign: sign === meterBefore ? null : sign,
        chords: chords.map(({ beat, symbol, chosen }) => ({
          beat: beat - 1,
          text: symbol?.text ?? 'N.C.',
          palette: chosen === null ? '' : `${chosen.palette.root} ${chosen.palette.name}`,
        })),
      });
      meterBefore = sign;
    }
  }
  return measures;
}
