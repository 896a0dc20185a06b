/** A take: one recorded performance, as events on its own clock. */

/**
 * One thing that happened at the keyboard. `atMs` is the raw time on the take's clock (0 = first downbeat after
 * the count-in; negative during the count-in), before latency is taken off. Events are in order of time.
 */
export type TakeEvent =
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

/** Events in order of time, and the end of the recording on the same clock. */
export interface TakeEvents {
  readonly events: readonly TakeEvent[];
  readonly endMs: number;
}
