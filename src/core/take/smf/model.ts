/**
 * A Standard MIDI File as it stands: every event of every track, kept. Source of the format: MIDI Manufacturers
 * Association, Standard MIDI Files 1.0 (RP-001, rev. 1996), from here on "SMF".
 */

import type { ByteProblem } from '../../problem.ts';

/** How ticks count: parts of a quarter note, or parts of a film frame. */
export type SmfDivision =
  | { readonly kind: 'metrical'; readonly ticksPerQuarter: number }
  | { readonly kind: 'frames'; readonly framesPerSecond: number; readonly ticksPerFrame: number };

/** `tick` counts from the start of the track. `data2` is 0 for the messages that have one data byte. */
export type SmfEvent =
  | {
      readonly kind: 'channel';
      readonly tick: number;
      readonly status: number;
      readonly data1: number;
      readonly data2: number;
    }
  | {
      readonly kind: 'meta';
      readonly tick: number;
      readonly type: number;
      readonly bytes: Uint8Array;
    }
  /** F0 as it is sent, or the continuation and escape form F7. */
  | {
      readonly kind: 'sysex';
      readonly tick: number;
      readonly status: 0xf0 | 0xf7;
      readonly bytes: Uint8Array;
    };

export type SmfTrack = readonly SmfEvent[];

export interface SmfFile {
  readonly format: 0 | 1 | 2;
  readonly division: SmfDivision;
  readonly tracks: readonly SmfTrack[];
}

export interface DecodedSmf extends SmfFile {
  /** How many values above 127 were read as 127; a note number above it is a problem. */
  readonly clampedValues: number;
}

export type SmfProblemCode =
  | 'empty'
  | 'tooLarge'
  | 'otherFile'
  | 'header'
  | 'format'
  | 'division'
  | 'noTracks'
  | 'truncated'
  | 'number'
  | 'runningStatus'
  | 'status'
  | 'noteNumber'
  | 'noNotes'
  | 'tooLong'
  | 'independentTracks';

/** One clear thing that is wrong with a file; `read` says what stood there. */
export type SmfProblem = ByteProblem<SmfProblemCode>;

/** Larger files are refused before they are read: a million notes take about 8 MB. */
export const LARGEST_SMF_BYTES = 16_000_000;

export const META = {
  trackName: 0x03,
  marker: 0x06,
  text: 0x01,
  endOfTrack: 0x2f,
  tempo: 0x51,
  meter: 0x58,
  key: 0x59,
} as const;

/** µs per quarter when a file names no tempo. Source: SMF, "Formats 0, 1, and 2". */
export const DEFAULT_US_PER_QUARTER = 500_000;
