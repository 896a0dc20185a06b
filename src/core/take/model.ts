/** A take: one recorded performance, as events on its own clock. */

/** Which keyboard an event came from: an index into the sources of its take. Absent: the first. */
interface FromSource {
  readonly source?: number;
}

/**
 * One thing that happened at a keyboard. `atMs` is the raw time on the take's clock (0 = first downbeat after
 * the count-in; negative during the count-in), before latency is taken off. Events are in order of time.
 */
export type TakeEvent = FromSource & KeyEvent;

type KeyEvent =
  | {
      readonly kind: 'noteOn';
      readonly atMs: number;
      readonly midi: number;
      readonly velocity: number;
    }
  | { readonly kind: 'noteOff'; readonly atMs: number; readonly midi: number }
  | { readonly kind: 'pedal'; readonly atMs: number; readonly down: boolean }
  | {
      readonly kind: 'allOff';
      readonly atMs: number;
      readonly cause: 'allNotesOff' | 'disconnect';
    };

/** How the time of a take runs: one steady tempo, or the tempo map of a file. */
export type TakeTempo =
  | { readonly kind: 'steady'; readonly tempoBpm: number }
  | { readonly kind: 'mapped'; readonly points: readonly TempoPoint[] };

/**
 * From `atMs` on, a quarter note lasts `msPerQuarter`; `atQuarter` counts quarters from the first downbeat.
 * Points are in ascending order; the first one also holds before itself.
 */
export interface TempoPoint {
  readonly atMs: number;
  readonly atQuarter: number;
  readonly msPerQuarter: number;
}

/**
 * Times of a take lie at most this far from its first downbeat, on either side: more than eleven days, in which no
 * one has played; whole microseconds of it are counted exactly in a double. Own rule.
 */
export const FURTHEST_MS = 1_000_000_000;

/** A keyboard that was played: how late its keys arrive, and the lowest key of the line on it (null: no split). */
export interface TakeSource {
  readonly name: string;
  readonly latencyMs: number;
  readonly splitMidi: number | null;
}

/** Nobody plays more keyboards in one take: as many as a MIDI file has channels for, apart from that of percussion. Own rule. */
export const MOST_SOURCES = 15;

/**
 * A span in which the sound that the player followed stood still, or the clocks were being matched anew. Time is that of
 * the sound as heard.
 */
export interface TakeBreak {
  readonly fromMs: number;
  readonly toMs: number;
}

/** What was recorded: events in order of time, the end of the recording on the same clock, the keyboards, the breaks. */
export interface TakeEvents {
  readonly events: readonly TakeEvent[];
  readonly endMs: number;
  /** None: one keyboard that nothing is known of. */
  readonly sources: readonly TakeSource[];
  readonly breaks: readonly TakeBreak[];
}
