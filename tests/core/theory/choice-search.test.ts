/**
 * Chords the rules know fewer than three scales for: the catalogue is searched. Whatever is found there holds the chord,
 * has seven or eight notes and one way, and shares more notes with the key than what was passed over.
 */

import { describe, expect, test } from 'vitest';
import {
  choosePalettes,
  chordPcs,
  findScale,
  type Key,
  keyFifths,
  paletteMask,
  parseKey,
  SCALES,
  scalePalette,
  tonePc,
} from '../../../src/core/theory/index.ts';
import { chord } from './symbols.ts';

const SEARCHED = "holds all of the chord's tones";
const CHORDS = ['C(b5)', 'Cm6/9(maj7)', 'Csus(b5)', 'C6sus(b9)', 'Bb7#9', 'Bbmaj7sus2(#11)'];
const KEYS = ['C', 'E', 'Ab', 'F#m', 'Cm'];

function readKey(text: string): Key {
  const key = parseKey(text);
  if (key === null) throw new Error(`no key ${text}`);
  return key;
}

/** How many notes of the signature a scale on a root has. */
function shared(name: string, root: number, key: Key): number {
  const scale = findScale(name);
  const natural = Array.from({ length: 7 }, (_, step) => tonePc(keyFifths(key) - 1 + step));
  const pcs = scale === null ? [] : scalePalette(scale, root).pcs;
  return pcs.filter((pc) => natural.includes(pc)).length;
}

describe.each(CHORDS)('%s', (text) => {
  test.each(KEYS)('in %s', (keyText) => {
    const symbol = chord(text);
    const key = readKey(keyText);
    const choices = choosePalettes({ symbol, key, before: [], after: [] });
    const found = choices.filter(({ reason }) => reason === SEARCHED).map(({ palette }) => palette);
    const own = choices.filter(({ reason }) => reason !== SEARCHED);
    expect(own.length).toBeLessThan(3);
    expect(found.length).toBeGreaterThan(0);
    expect(found.length).toBeLessThanOrEqual(3);

    const shares = found.map(({ name }) => shared(name, symbol.root, key));
    expect(shares).toEqual(shares.toSorted((one, other) => other - one));
    for (const { pcs, falling } of found) {
      expect([7, 8]).toContain(pcs.length);
      expect(falling).toBeNull();
      expect(pcs).toEqual(expect.arrayContaining([...chordPcs(symbol)]));
    }

    const offered = choices.map(({ palette }) => paletteMask(palette));
    const passedOver = SCALES.filter(({ intervals, falling }) => {
      const pcs = intervals.map((interval) => tonePc(symbol.root + interval));
      const holds = chordPcs(symbol).every((pc) => pcs.includes(pc));
      const mask = pcs.reduce((sum, pc) => sum | (1 << pc), 0);
      return holds && [7, 8].includes(pcs.length) && falling === null && !offered.includes(mask);
    });
    for (const { name } of passedOver)
      expect(shared(name, symbol.root, key)).toBeLessThanOrEqual(Math.min(...shares));
    expect(passedOver.length === 0 || choices.length >= 3).toBe(true);
  });
});
