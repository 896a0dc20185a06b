/** How the chords of one bar share its beats, and how a bar's beats are written. */

/** One thing that stands in a bar: something that sounds, or `/`, which holds what came before it. */
export type BeatItem<Value> =
  | { readonly kind: 'value'; readonly value: Value }
  | { readonly kind: 'hold' };

export interface Placed<Value> {
  readonly value: Value;
  /** First beat, from 1. */
  readonly beat: number;
  /** At least 1. */
  readonly beats: number;
}

export type BeatsResult<Value> =
  | { readonly kind: 'placed'; readonly placed: readonly Placed<Value>[] }
  | { readonly kind: 'tooMany' }
  | { readonly kind: 'holdFirst' }
  | { readonly kind: 'holdsUneven' };

/**
 * Gives each item of a bar its beats. In: at least one item; the bar's beats, at least 1.
 * As many items as beats: one beat each, `/` adding its beat to the one before. Fewer without `/`: as even as
 * whole beats allow, what remains going to the front (4 in 3: 2+1+1; 3 in 2: 2+1; 5 in 2: 3+2).
 * Everything else is named, not guessed. Source: `chart-text.md`; 5 in 2 and the like by the same rule.
 */
export function placeOnBeats<Value>(
  items: readonly BeatItem<Value>[],
  beatsInBar: number,
): BeatsResult<Value> {
  if (items[0]?.kind === 'hold') return { kind: 'holdFirst' };
  if (items.length > beatsInBar) return { kind: 'tooMany' };
  const values = items.flatMap((item) => (item.kind === 'value' ? [item.value] : []));
  if (items.length === beatsInBar) return placed(values, lengthsWithHolds(items));
  if (values.length < items.length) return { kind: 'holdsUneven' };
  return placed(values, evenShares(values.length, beatsInBar));
}

/** Whole beats for each of `count` chords, 1 ≤ count ≤ beats: as even as possible, the longer ones first. */
export function evenShares(count: number, beatsInBar: number): readonly number[] {
  const share = Math.floor(beatsInBar / count);
  const longer = beatsInBar % count;
  return Array.from({ length: count }, (_, index) => share + (index < longer ? 1 : 0));
}

function lengthsWithHolds(items: readonly BeatItem<unknown>[]): readonly number[] {
  const lengths: number[] = [];
  for (const item of items) {
    if (item.kind === 'value') lengths.push(1);
    else lengths.push((lengths.pop() ?? 0) + 1);
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

/** The words of a bar: chords alone where they share evenly, else one word per beat with `/` for a held beat. */
export function formatBeats(
  chords: readonly { readonly text: string; readonly beats: number }[],
  beatsInBar: number,
): string {
  const shares = evenShares(Math.max(1, chords.length), beatsInBar);
  const even = chords.every((chord, index) => chord.beats === shares[index]);
  const words = chords.flatMap(({ text, beats }) => [
    text,
    ...(even ? [] : Array.from({ length: beats - 1 }, () => '/')),
  ]);
  return words.join(' ');
}
