/** The key of a chart that names none, estimated from its chords. */

import type { ChordSymbol } from '../theory/chord-symbol.ts';
import type { Key } from '../theory/key.ts';
import type { BarContent } from './model.ts';

/** Signatures a chart is estimated to have: at most six sharps or flats. */
const MOST_FIFTHS = 6;
/** A minor key has the signature of the major key three fifths below. */
const MINOR_FIFTHS = 3;

/** Nearest to none first, so that of keys as likely the one with fewest sharps or flats is taken. */
const KEYS: readonly Key[] = Array.from({ length: 2 * MOST_FIFTHS + 1 }, (_, index) =>
  index % 2 === 0 ? -index / 2 : (index + 1) / 2,
).flatMap((fifths): readonly Key[] => [
  { tonic: fifths, mode: 'major' },
  { tonic: fifths + MINOR_FIFTHS, mode: 'minor' },
]);

const C_MAJOR: Key = { tonic: 0, mode: 'major' };

interface Sounding {
  readonly symbol: ChordSymbol;
  readonly beats: number;
}

/** What speaks for a key, beside the share of tones that belong to it (0 to 1). Own rule, tried on the charts of the program. */
const WEIGHT = { first: 0.12, last: 0.12, cadence: 0.5, tonic: 0.15 } as const;

/**
 * The key that most speaks for: the share of the chords' tones that belong to it, whether chart begins and ends on its tonic, how
 * much of the time is its tonic, and how often its dominant leads home. A minor key has both sixths and sevenths. In: the written
 * bars of `plain`. A chart without chords is in C. Source: common practice, no source.
 */
export function estimateKey(bars: readonly { readonly content: BarContent }[]): Key {
  const chords = soundingChords(bars);
  let best = C_MAJOR;
  let most = Number.NEGATIVE_INFINITY;
  for (const key of KEYS) {
    const likely = likelihood(chords, key);
    if (likely <= most) continue;
    best = key;
    most = likely;
  }
  return chords.length === 0 ? C_MAJOR : best;
}

function soundingChords(bars: readonly { readonly content: BarContent }[]): readonly Sounding[] {
  let before: readonly Sounding[] = [];
  return bars.flatMap(({ content }) => {
    if (content.kind === 'chords') {
      before = content.chords.flatMap(({ symbol, beats }) =>
        symbol === null ? [] : [{ symbol, beats }],
      );
    }
    return before;
  });
}

function likelihood(chords: readonly Sounding[], key: Key): number {
  let beatsInAll = 0;
  let fit = 0;
  let tonic = 0;
  let cadence = 0;
  chords.forEach(({ symbol, beats }, index) => {
    beatsInAll += beats;
    fit += beats * shareInKey(symbol, key);
    if (isTonic(symbol, key)) tonic += beats;
    const next = chords[index + 1] ?? chords[0];
    if (next !== undefined && isDominant(symbol, key) && isTonic(next.symbol, key))
      cadence += 2 * beats;
  });
  const [first, last] = [chords[0], chords.at(-1)];
  return (
    (fit + WEIGHT.tonic * tonic + WEIGHT.cadence * cadence) / Math.max(beatsInAll, 1) +
    (first !== undefined && isTonic(first.symbol, key) ? WEIGHT.first : 0) +
    (last !== undefined && (isTonic(last.symbol, key) || isDominant(last.symbol, key))
      ? WEIGHT.last
      : 0)
  );
}

function shareInKey({ root, tones }: ChordSymbol, key: Key): number {
  const inside = tones.filter(({ interval }) => isInKey(root + interval - key.tonic, key.mode));
  return inside.length / tones.length;
}

/** Of a tone by its distance from the tonic on the line of fifths. */
function isInKey(fifths: number, mode: Key['mode']): boolean {
  return mode === 'major'
    ? fifths >= -1 && fifths <= 5
    : fifths >= -4 && fifths <= 5 && fifths !== 4;
}

/** A dominant seventh may be the tonic of a blues. */
function isTonic({ root, family }: ChordSymbol, key: Key): boolean {
  if (root !== key.tonic) return false;
  return key.mode === 'minor' ? family === 'minor' : family === 'major' || family === 'dominant';
}

function isDominant({ root, family }: ChordSymbol, key: Key): boolean {
  return root === key.tonic + 1 && (family === 'dominant' || family === 'suspended');
}
