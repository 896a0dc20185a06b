/** A line that has been written: its notes in beats, so that it can be heard at any tempo. */

import type { Level, SlotsPerBeat } from '../words.ts';
import type { BeatRhythm } from './rhythm.ts';

/** Where a note stands, and over what. Chorus, bar and beat count from 1, `sub` from 0. */
export interface NotePlace {
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  /** The slot in its beat; at `free` the twelfth of the beat. */
  readonly sub: number;
  /** As written; `N.C.` where there is none. */
  readonly chord: string;
  /** Null under `N.C.` */
  readonly palette: string | null;
}

export interface WrittenNote {
  /** Index of the note's slot through all choruses, from 0; at `free` the index of the note. */
  readonly slot: number;
  readonly place: NotePlace;
  readonly midi: number;
  /** Spelled over its chord as the grader spells it: `Eb4` (MIDI 60 = C4). */
  readonly name: string;
  /** Beats from the first downbeat, swing included; chorus after chorus. */
  readonly onsetBeats: number;
  /** Beats until the key goes up; never beyond the next note. */
  readonly durationBeats: number;
  /** 1–127. */
  readonly velocity: number;
}

/** The note after the last bar, on the downbeat: a tone of the chord that comes next. It is no slot, and nothing judges it. */
export interface ClosingNote extends Omit<WrittenNote, 'slot' | 'place'> {
  /** What comes next, as written. */
  readonly chord: string;
}

/** Plain data that survives JSON. */
export interface WrittenLine {
  readonly level: Level;
  /** Null: eighth notes in every meter. */
  readonly slotsPerBeat: SlotsPerBeat | null;
  readonly swing: number;
  readonly choruses: number;
  /** Beats of all choruses together, without the closing note. */
  readonly beats: number;
  readonly notes: readonly WrittenNote[];
  /** Null for drills, and where what comes next has no chord, or none of its tones in the register. */
  readonly closing: ClosingNote | null;
  /** What each beat plays at `free`; null where every slot has its note. */
  readonly rhythm: readonly BeatRhythm[] | null;
}
