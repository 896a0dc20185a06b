/**
 * Keys in cycles. The orders from C are those of the circle of fifths and of the chromatic, whole-tone and diminished
 * divisions of the octave; six sharps are written as six flats. Common practice, no source.
 */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { KEY_CYCLES, keyCycle, nextKey } from '../../../src/core/plan/index.ts';
import { formatKey, type Key, keyFifths, tonePc } from '../../../src/core/theory/index.ts';
import { arbitraryKey } from '../../helpers/arbitrary-chart.ts';

const C: Key = { tonic: 0, mode: 'major' };
const names = (keys: readonly Key[]): string => keys.map(formatKey).join(' ');

describe('keys in a cycle', () => {
  test.each([
    ['fourths', 'C F Bb Eb Ab Db Gb B E A D G'],
    ['fifths', 'C G D A E B Gb Db Ab Eb Bb F'],
    ['semitonesUp', 'C Db D Eb E F Gb G Ab A Bb B'],
    ['semitonesDown', 'C B Bb A Ab G Gb F E Eb D Db'],
    ['wholeTones', 'C D E Gb Ab Bb Db Eb F G A B'],
    ['minorThirds', 'C Eb Gb A Db E G Bb D F Ab B'],
  ] as const)('of %s from C', (cycle, expected) => {
    expect(names(keyCycle(C, cycle))).toBe(expected);
  });

  test('visits all twelve keys once, readable, in its mode, from every key', () => {
    fc.assert(
      fc.property(
        arbitraryKey(),
        fc.constantFrom(...KEY_CYCLES),
        fc.integer(),
        (key, cycle, seed) => {
          const keys = keyCycle(key, cycle, seed);
          expect(keys[0]).toEqual(key);
          expect(new Set(keys.map(({ tonic }) => tonePc(tonic))).size).toBe(12);
          expect(keys.every(({ mode }) => mode === key.mode)).toBe(true);
          expect(keys.slice(1).every((one) => Math.abs(keyFifths(one)) <= 6)).toBe(true);
        },
      ),
    );
  });

  test('comes round to where it began', () => {
    fc.assert(
      fc.property(
        arbitraryKey(),
        fc.constantFrom(...KEY_CYCLES),
        fc.integer(),
        (first, cycle, seed) => {
          let key = first;
          for (let step = 0; step < 12; step++) key = nextKey(first, key, cycle, seed);
          expect(key).toEqual(first);
        },
      ),
    );
  });

  test('of whole tones or minor thirds end, if wished, where they come round', () => {
    expect(names(keyCycle(C, 'wholeTones', 0, false))).toBe('C D E Gb Ab Bb');
    expect(names(keyCycle(C, 'minorThirds', 0, false))).toBe('C Eb Gb A');
    const last = { tonic: 3, mode: 'major' } as const;
    expect(nextKey(C, last, 'minorThirds', 0, false)).toEqual(C);
    expect(formatKey(nextKey(C, last, 'minorThirds'))).toBe('Db');
    expect(keyCycle(C, 'fourths', 0, false)).toEqual(keyCycle(C, 'fourths'));
  });

  test('stay in minor and name its keys by their signatures', () => {
    const am: Key = { tonic: 3, mode: 'minor' };
    expect(names(keyCycle(am, 'fifths'))).toBe('Am Em Bm F#m C#m G#m Ebm Bbm Fm Cm Gm Dm');
  });

  test('at random are the same for a seed and unlike for the next', () => {
    expect(keyCycle(C, 'random', 7)).toEqual(keyCycle(C, 'random', 7));
    const orders = Array.from({ length: 100 }, (_, seed) => keyCycle(C, 'random', seed));
    expect(new Set(orders.map(names)).size).toBe(100);
    // Of 100 fair draws among 11 keys each comes about 9 times; none of the 11 should be missing at any place but the first.
    for (let at = 1; at < 12; at++) {
      expect(new Set(orders.map((keys) => keys[at]?.tonic)).size).toBe(11);
    }
  });
});
