/** What is planted in a demo take, and what a right grader must therefore find: stated here, not printed by one. */

/** A place in the take, counted as musicians do: from 1; `sub` from 0. */
export interface Place {
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  readonly sub: number;
}

export type PlantedFault =
  /** The old palette hangs on for so many slots after the change at this place. */
  | { readonly kind: 'lateChange'; readonly at: Place; readonly bySlots: number }
  /** Only tones common to both palettes from the change at this place to the next. */
  | { readonly kind: 'commonTonesOnly'; readonly at: Place }
  | { readonly kind: 'gap'; readonly at: Place }
  /** A third into this slot where only steps are open. */
  | { readonly kind: 'third'; readonly at: Place }
  | { readonly kind: 'outside'; readonly at: Place }
  /** A second, softer key down a few milliseconds after the note. */
  | { readonly kind: 'double'; readonly at: Place }
  /** The note comes so many ms late and the next one in time: late, but no gap. */
  | { readonly kind: 'hesitation'; readonly at: Place; readonly byMs: number }
  /** The left hand leaves the bass note of this chord out, or plays the fourth above it. */
  | { readonly kind: 'bassMissing'; readonly at: Place }
  | { readonly kind: 'bassOther'; readonly at: Place };

export interface DemoTake {
  readonly file: string;
  readonly about: string;
  readonly chart: string;
  readonly plan: string;
  readonly level: 'steps' | 'thirds' | 'leaps' | 'free';
  readonly tempoBpm: number;
  readonly choruses: number;
  readonly seed: number;
  /** With a left hand: the lowest key of the line. */
  readonly splitMidi: number | null;
  /** Mean lead (negative) or lag of the onsets, and how much later they come bar by bar. */
  readonly lagMs: number;
  readonly dragMsPerBar: number;
  readonly spreadMs: number;
  /** Share of slots in which a chromatic approach is tried, above `steps`. */
  readonly approaches: number;
  readonly planted: readonly PlantedFault[];
}

/** The fault of a kind planted at a place, if any. */
export function plantedAt<Kind extends PlantedFault['kind']>(
  take: DemoTake,
  kind: Kind,
  place: Place,
): Extract<PlantedFault, { kind: Kind }> | undefined {
  return take.planted.find(
    (fault): fault is Extract<PlantedFault, { kind: Kind }> =>
      fault.kind === kind &&
      fault.at.chorus === place.chorus &&
      fault.at.bar === place.bar &&
      fault.at.beat === place.beat &&
      fault.at.sub === place.sub,
  );
}
