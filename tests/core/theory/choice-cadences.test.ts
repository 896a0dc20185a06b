/** Cadences in every key: what the choice promises of a ii–V wherever it leads. */

import { describe, expect, test } from 'vitest';
import {
  type ChordSymbol,
  choosePalettes,
  type Key,
  paletteMask,
  tonePc,
} from '../../../src/core/theory/index.ts';
import { chord } from './symbols.ts';

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const KEYS: readonly Key[] = [-5, -4, -3, -2, -1, 0, 1, 2, 3, 4, 5, 6].flatMap((tonic) => [
  { tonic, mode: 'major' },
  { tonic, mode: 'minor' },
]);

/** A chord on the root some semitones above that of index `at`. */
function on(at: number, up: number, quality: string): ChordSymbol {
  return chord((ROOTS[(at + up) % 12] ?? '') + quality);
}

function proposal(
  key: Key,
  symbol: ChordSymbol,
  before: readonly ChordSymbol[],
  after: readonly ChordSymbol[],
) {
  const [first] = choosePalettes({ symbol, key, before, after });
  if (first === undefined) throw new Error(`no palette for ${symbol.text}`);
  return first.palette;
}

describe('in every key, on every root', () => {
  test.each([
    // Common practice: m7 as ii is dorian. `I` in several forms, V in one or more.
    ['7', 'maj7'],
    ['9', '6'],
    ['13', ''],
    ['7 7b9', 'maj9'],
    ['7sus4 7', 'maj7'],
    ['7alt', '7'],
  ])('the m7 before V%s and I%s is dorian', (fives, one) => {
    for (const key of KEYS) {
      for (const at of ROOTS.keys()) {
        const five = fives.split(' ').map((quality) => on(at, 7, quality));
        const after = [...five, on(at, 0, one)];
        expect(proposal(key, on(at, 2, 'm7'), [], after).name).toBe('dorian');
      }
    }
  });

  test.each(['maj7', '6', 'm7', 'm6', '7', '7sus4', 'm7b5', '+'])(
    'a plain V after its half-diminished ii keeps the flat fifth of it as flat ninth, before %s on any root',
    (quality) => {
      for (const key of KEYS) {
        for (const at of ROOTS.keys()) {
          for (const up of ROOTS.keys()) {
            const five = on(at, 7, '7');
            const palette = proposal(key, five, [on(at, 2, 'm7b5')], [on(at, up, quality)]);
            expect(['half-whole diminished', 'phrygian dominant']).toContain(palette.name);
            expect(paletteMask(palette) & (1 << ((tonePc(five.root) + 1) % 12))).not.toBe(0);
          }
        }
      }
    },
  );
});
