/** "Time and grid": where the slots of a form lie, counted out beat by beat. */

import {
  beatsPerBar,
  type Form,
  type FormChord,
  isCompound,
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
  /** Index of the chord in force. */
  readonly chord: number;
  readonly slots: number;
}

export interface Performance {
  readonly chords: readonly PlayedChord[];
  readonly beats: readonly PlayedBeat[];
  readonly beatsPerChorus: number;
  timeMs(beat: number): number;
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
      // "Slots per beat: 2 in simple meters, 3 in compound ones; also 1, 3, 4 by setting."
      const slots = settings.slotsPerBeat ?? (isCompound(meter) ? 3 : 2);
      for (let beat = 1; beat <= beatsPerBar(meter); beat++) {
        const chord = inBar.find((placed) => placed.beat === beat);
        const atBeat = beats.length;
        if (chord !== undefined) chords.push({ chord, chorus, bar, atBeat });
        beats.push({ chorus, bar, beat, atBeat, chord: chords.length - 1, slots });
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

/** Every slot of the performance. "The off-beat slot lies at r/(1+r) of the beat." */
export function slotsOf(played: Performance, settings: GradeSettings): readonly Entry[] {
  const { swing = 1, toleranceMs = null } = settings;
  return played.beats.flatMap(({ chorus, bar, beat, atBeat, chord, slots }) => {
    const beatMs = played.timeMs(atBeat + 1) - played.timeMs(atBeat);
    return Array.from({ length: slots }, (_, sub) => {
      const within = slots === 2 && sub === 1 ? swing / (1 + swing) : sub / slots;
      return {
        ...{ chorus, bar, beat, sub, chord, atBeat: atBeat + within },
        nominalMs: played.timeMs(atBeat + within),
        // "Deviation beyond the tolerance: max(40 ms, 0.15 × beat length / slots per beat), adjustable."
        toleranceMs: toleranceMs ?? Math.max(40, (0.15 * beatMs) / slots),
      };
    });
  });
}
