/** "Time and grid": where the slots of a form lie, counted out beat by beat. */

import {
  beatsPerBar,
  type Form,
  type FormChord,
  isCompound,
  type Meter,
} from '../../../src/core/chart/index.ts';
import type { GradeSettings } from '../../../src/core/grading/index.ts';

/** A chord of the performance, in order through all choruses. */
export interface PlayedChord {
  readonly chord: FormChord;
  readonly chorus: number;
  readonly bar: number;
  /** Beats from the first downbeat. */
  readonly atBeat: number;
}

/** A beat of the performance. */
export interface PlayedBeat {
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  readonly atBeat: number;
  readonly slots: number;
  readonly unit: Meter['unit'];
}

export interface Performance {
  readonly chords: readonly PlayedChord[];
  readonly beats: readonly PlayedBeat[];
  readonly beatsPerChorus: number;
  timeMs(beat: number): number;
}

/** "Slots per beat: 2 in simple meters, 3 in compound ones, 4 in 2/2 and 3/2, 1 in 5/8 and 7/8." */
export function usualSlots(meter: Meter): 1 | 2 | 3 | 4 {
  if (meter.unit === 2) return 4;
  return meter.unit === 4 ? 2 : isCompound(meter) ? 3 : 1;
}

/** Lays out so many choruses at a steady tempo. "Tempo counts the meter's beat unit." */
export function perform(form: Form, settings: GradeSettings, choruses: number): Performance {
  const { tempo } = settings;
  if (tempo.kind !== 'steady') throw new Error('the reference counts a steady tempo');
  const beatMs = 60_000 / tempo.tempoBpm;
  const chords: PlayedChord[] = [];
  const beats: PlayedBeat[] = [];
  for (let chorus = 1; chorus <= choruses; chorus++) {
    for (const { bar, meter, chords: inBar } of form.bars) {
      const slots = settings.slotsPerBeat ?? usualSlots(meter);
      const barStart = beats.length;
      for (const chord of inBar) {
        const atBeat = barStart + chord.beat - 1;
        // "One that begins and ends between two slots is passed over", but at `free` there are no slots.
        const first = Math.ceil((chord.beat - 1) * slots);
        const isMet = first < Math.ceil((chord.beat - 1 + chord.beats) * slots);
        if (isMet || settings.level === 'free') chords.push({ chord, chorus, bar, atBeat });
      }
      for (let beat = 1; beat <= beatsPerBar(meter); beat++) {
        const { unit } = meter;
        beats.push({ chorus, bar, beat, atBeat: beats.length, slots, unit });
      }
    }
  }
  return {
    chords,
    beats,
    beatsPerChorus: beats.length / choruses,
    timeMs: (beat) => beat * beatMs,
  };
}

/** One entry of the line: a slot, or at `free` a note. */
export interface Entry {
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  readonly sub: number;
  readonly atBeat: number;
  readonly chord: number;
  readonly nominalMs: number;
  readonly toleranceMs: number | null;
}

/** Every slot of the performance. "The second lies at r/(1 + r) of what the two share." */
export function slotsOf(played: Performance, settings: GradeSettings): readonly Entry[] {
  const { swing = 1, toleranceMs = null } = settings;
  return played.beats.flatMap(({ chorus, bar, beat, atBeat, slots, unit }) => {
    const beatMs = played.timeMs(atBeat + 1) - played.timeMs(atBeat);
    return Array.from({ length: slots }, (_, sub) => {
      const chord = chordAt(played, atBeat + sub / slots);
      // "Only for two eighths to a beat, or to half a beat in 2/2 and 3/2."
      const off = swing / (1 + swing);
      const inHalves = [0, off / 2, 0.5, 0.5 + off / 2][sub] ?? 0;
      const inTwo = unit !== 2 && slots === 2 && sub === 1 ? off : sub / slots;
      const within = unit === 2 && slots === 4 ? inHalves : inTwo;
      return {
        ...{ chorus, bar, beat, sub, chord, atBeat: atBeat + within },
        nominalMs: played.timeMs(atBeat + within),
        // "Deviation beyond the tolerance: max(40 ms, 0.15 × beat length / slots per beat), adjustable."
        toleranceMs: toleranceMs ?? Math.max(40, (0.15 * beatMs) / slots),
      };
    });
  });
}

/** Index of the chord in force at a place in beats, from its own place on (left open by the text); thirds of a beat are inexact. */
export function chordAt({ chords }: Performance, beat: number): number {
  return chords.findLastIndex(({ atBeat }) => atBeat <= beat + 1e-9);
}
