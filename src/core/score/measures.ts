/** Sounds as bars of note values: what a staff shows, and what a score file holds. */

import { beatsPerBar, type Form, type FormChord, formatMeter, type Meter } from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import {
  type BeatGrid,
  beatGrids,
  type NoteValue,
  type TupletRatio,
  valuesOf,
} from './note-values.ts';
import type { Sound } from './sounds.ts';

export interface MeasureNote {
  /** With its octave: `Eb4`; null is a rest. */
  readonly name: string | null;
  /** Index of the slot in its line or report, that of a gap too; null is a rest nobody owed a note in. */
  readonly slot: number | null;
  readonly value: NoteValue;
  /** As a share of the beat; 2 for a half note. */
  readonly length: number;
  /** Whether it goes on from the note before, and whether it goes on into the next. */
  readonly tiedFrom: boolean;
  readonly tiedTo: boolean;
}

/** What one beat plays, beamed together. Without notes while one that began on an earlier beat is written through it. */
export interface MeasureBeat {
  readonly notes: readonly MeasureNote[];
  readonly tuplet: TupletRatio | null;
}

export interface Measure {
  readonly chorus: number;
  readonly bar: number;
  readonly meter: Meter;
  /** The meter as it is written when it changes here, else null. */
  readonly meterSign: string | null;
  readonly beats: readonly MeasureBeat[];
  readonly chords: readonly FormChord[];
}

/** A piece of a beat, or of two whole ones: a sound or part of one, or a silence. */
interface Piece {
  readonly from: number;
  readonly to: number;
  readonly sound: Sound | null;
}

/** The bars of so many choruses with sounds, which come in order; where there is none, rests are written. */
export function layMeasures(
  form: Pick<Form, 'bars'>,
  sounds: readonly Sound[],
  choruses: number,
): readonly Measure[] {
  const measures: Measure[] = [];
  let at = 0;
  let next = 0;
  let meterBefore = '';
  for (let chorus = 1; chorus <= choruses; chorus++) {
    for (const { bar, meter, chords } of form.bars) {
      const end = at + beatsPerBar(meter) * TWELFTHS;
      while ((sounds[next]?.from ?? end) + (sounds[next]?.length ?? 0) <= at) next++;
      const own: Sound[] = [];
      for (let index = next; (sounds[index]?.from ?? end) < end; index++) {
        const sound = sounds[index];
        if (sound !== undefined) own.push(sound);
      }
      const sign = formatMeter(meter);
      const meterSign = sign === meterBefore ? null : sign;
      measures.push({ chorus, bar, meter, meterSign, beats: layBeats(meter, own, at), chords });
      meterBefore = sign;
      at = end;
    }
  }
  return measures;
}

function layBeats(meter: Meter, sounds: readonly Sound[], start: number): readonly MeasureBeat[] {
  const beats = beatsPerBar(meter);
  const laid: MeasureBeat[] = [];
  while (laid.length < beats) {
    const from = start + laid.length * TWELFTHS;
    // A note that goes on is written on as a half from every second beat, so that the middle of the bar shows.
    const mayGoOn = laid.length % 2 === 0;
    const long = sounds.find(
      (sound) =>
        (sound.from === from || (mayGoOn && sound.from < from)) &&
        sound.from + sound.length >= from + 2 * TWELFTHS,
    );
    if (long !== undefined && laid.length + 2 <= beats) {
      const [whole] = beatGrids(meter);
      const pair = { from, to: from + 2 * TWELFTHS, sound: long };
      laid.push(writeBeat([pair], whole), { notes: [], tuplet: null });
    } else {
      const pieces = cutBeat(sounds, from);
      const grid = beatGrids(meter).find((one) => fits(pieces, from, TWELFTHS / one.parts));
      laid.push(writeBeat(pieces, grid));
    }
  }
  return laid;
}

/** The sounds and silences of one beat, end to end. */
function cutBeat(sounds: readonly Sound[], from: number): readonly Piece[] {
  const end = from + TWELFTHS;
  const pieces: Piece[] = [];
  let at = from;
  for (const sound of sounds) {
    const begins = Math.max(from, sound.from);
    const ends = Math.min(end, sound.from + sound.length);
    if (ends <= begins) continue;
    if (begins > at) pieces.push({ from: at, to: begins, sound: null });
    pieces.push({ from: begins, to: ends, sound });
    at = ends;
  }
  if (at < end) pieces.push({ from: at, to: end, sound: null });
  return pieces;
}

function fits(pieces: readonly Piece[], from: number, step: number): boolean {
  return pieces.every(
    (piece) => (piece.from - from) % step === 0 && (piece.to - from) % step === 0,
  );
}

function writeBeat(pieces: readonly Piece[], grid: BeatGrid | undefined): MeasureBeat {
  if (grid === undefined) return { notes: [], tuplet: null };
  const step = TWELFTHS / grid.parts;
  const notes = pieces.flatMap(({ from, to, sound }) => {
    const values = valuesOf(((to - from) / step) * grid.partThirtySeconds);
    return values.map(({ value, thirtySeconds }, index): MeasureNote => {
      const name = sound?.name ?? null;
      const isTied = sound !== null && name !== null;
      return {
        name,
        slot: sound?.slot ?? null,
        value,
        length: ((thirtySeconds / grid.partThirtySeconds) * step) / TWELFTHS,
        tiedFrom: isTied && (index > 0 || from > sound.from),
        tiedTo: isTied && (index < values.length - 1 || to < sound.from + sound.length),
      };
    });
  });
  return { notes, tuplet: grid.tuplet };
}
