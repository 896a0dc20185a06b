/** How the chords of one bar share its beats, and how a bar's beats are written. */

/** One thing that stands in a bar: something that sounds, or `/`, which holds what came before it. */
export type BeatItem<Value> =
  | { readonly kind: 'value'; readonly value: Value }
  | { readonly kind: 'hold' };

export interface Placed<Value> {
  readonly value: Value;
  /** First beat, from 1; 2.5 is the second half of beat 2. */
  readonly beat: number;
  /** In halves, at least one half. */
  readonly beats: number;
}

export type BeatsResult<Value> =
  | { readonly kind: 'placed'; readonly placed: readonly Placed<Value>[] }
  | { readonly kind: 'tooMany' }
  | { readonly kind: 'holdFirst' }
  | { readonly kind: 'holdsUneven' };

/**
 * Gives each item of a bar its beats. In: at least one item; the bar's beats, at least 1.
 * As many items as beats: one beat each, `/` adding its beat to the one before. Twice as many: half a beat each. Fewer without
 * `/`: as even as whole beats allow, what remains going to the front (4 in 3: 2+1+1; 3 in 2: 2+1; 5 in 2: 3+2).
 * Everything else is named, not guessed. Source: `chart-text.md`; 5 in 2 and the like by the same rule.
 */
export function placeOnBeats<Value>(
  items: readonly BeatItem<Value>[],
  beatsInBar: number,
): BeatsResult<Value> {
  if (items[0]?.kind === 'hold') return { kind: 'holdFirst' };
  const values = items.flatMap((item) => (item.kind === 'value' ? [item.value] : []));
  if (items.length === beatsInBar) return placed(values, lengthsWithHolds(items, 1));
  if (items.length === 2 * beatsInBar) return placed(values, lengthsWithHolds(items, 0.5));
  if (items.length > beatsInBar) return { kind: 'tooMany' };
  if (values.length < items.length) return { kind: 'holdsUneven' };
  return placed(values, evenShares(values.length, beatsInBar));
}

/** Whole beats for each of `count` chords, 1 ≤ count ≤ beats: as even as possible, the longer ones first. */
export function evenShares(count: number, beatsInBar: number): readonly number[] {
  const share = Math.floor(beatsInBar / count);
  const longer = beatsInBar % count;
  return Array.from({ length: count }, (_, index) => share + (index < longer ? 1 : 0));
}

function lengthsWithHolds(
  items: readonly BeatItem<unknown>[],
  beatsEach: 0.5 | 1,
): readonly number[] {
  const lengths: number[] = [];
  for (const item of items) {
    const before = item.kind === 'value' ? 0 : (lengths.pop() ?? 0);
    lengths.push(before + beatsEach);
  }
  return lengths;
}

function placed<Value>(values: readonly Value[], lengths: readonly number[]): BeatsResult<Value> {
  let beat = 1;
  const result = values.map((value, index) => {
    const beats = lengths[index] ?? 1;
    const place = { value, beat, beats };
    beat += beats;
    return place;
  });
  return { kind: 'placed', placed: result };
}

/** The words of a bar: chords alone where they share evenly, else one word for each beat or half-beat with `/` for a held one. */
export function formatBeats(
  chords: readonly { readonly text: string; readonly beats: number }[],
  beatsInBar: number,
): string {
  const shares = evenShares(Math.max(1, chords.length), beatsInBar);
  if (chords.every((chord, index) => chord.beats === shares[index])) {
    return chords.map(({ text }) => text).join(' ');
  }
  const wordsToBeat = chords.every(({ beats }) => Number.isInteger(beats)) ? 1 : 2;
  return chords
    .flatMap(({ text, beats }) => [
      text,
      ...Array.from({ length: beats * wordsToBeat - 1 }, () => '/'),
    ])
    .join(' ');
}
