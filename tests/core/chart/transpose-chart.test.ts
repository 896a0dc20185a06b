import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type Chart,
  formatChart,
  parseChart,
  transposeChart,
  transposeToEasierKey,
  transposeToKey,
} from '../../../src/core/chart/index.ts';
import { formatKey, keyFifths } from '../../../src/core/theory/key.ts';
import { INTERVALS, toneAlter } from '../../../src/core/theory/tone.ts';
import { arbitraryChart, arbitraryKey } from '../../helpers/arbitrary-chart.ts';
import { runs } from '../../helpers/runs.ts';
import { LANTERN_WALK } from './example.ts';
import { barsOf, chartOf, formOf, symbolsOf, textOf } from './reading.ts';

function rootsOf(chart: Chart): readonly number[] {
  const contents = [
    ...barsOf(chart).map(({ content }) => content),
    ...chart.plans.flatMap(({ bars }) => bars),
  ];
  return contents.flatMap((content) =>
    content.kind === 'chords' ? content.chords.flatMap(({ symbol }) => symbol?.root ?? []) : [],
  );
}

function toKey(chart: Chart, fifths: number): Chart {
  const tonic = chart.key.mode === 'minor' ? fifths + 3 : fifths;
  const moved = transposeToKey(chart, { tonic, mode: chart.key.mode });
  if (!moved.ok) throw new Error('other mode');
  return moved.value;
}

describe('spelling in the new key', () => {
  const lantern = chartOf(LANTERN_WALK);

  // Worked out apart: Bb + m3 = Db and so on, by addition on the line of fifths.
  it.each([
    [5, 'B', 'Bmaj7 | C#m7 F#7 | D#m7b5 | G#7'],
    [-5, 'Db', 'Dbmaj7 | Ebm7 Ab7 | Fm7b5 | Bb7'],
    [-6, 'Gb', 'Gbmaj7 | Abm7 Db7 | Bbm7b5 | Eb7'],
    [6, 'F#', 'F#maj7 | G#m7 C#7 | A#m7b5 | D#7'],
    [1, 'G', 'Gmaj7 | Am7 D7 | Bm7b5 | E7'],
    [4, 'E', 'Emaj7 | F#m7 B7 | G#m7b5 | C#7'],
  ])('key signature %i: %s', (fifths, key, firstFour) => {
    const moved = toKey(lantern, fifths);
    expect(formatKey(moved.key)).toBe(key);
    expect(symbolsOf(formOf(moved)).slice(0, 4).join(' | ')).toBe(firstFour);
  });

  it('takes the other name where the signature would go beyond six', () => {
    // Bb up a minor sixth is Gb; up an augmented fourth E; A up a major third C#, which becomes Db.
    expect(formatKey(transposeChart(lantern, INTERVALS.m6).key)).toBe('Gb');
    expect(formatKey(transposeChart(lantern, INTERVALS.A4).key)).toBe('E');
    const inA = toKey(lantern, 3);
    expect(formatKey(transposeChart(inA, INTERVALS.M3).key)).toBe('Db');
    expect(symbolsOf(formOf(transposeChart(inA, INTERVALS.M3)))[0]).toBe('Dbmaj7');
  });

  it.each([
    // White keys under their plain names; what the signature has stays where no tone is doubly raised or lowered.
    ['C', 6, 'Cmaj7 B7 Bm7b5 E7 Emaj7 Em7 F#m7', 'F#maj7 F7 E#m7b5 A#7 Bbmaj7 A#m7 Cm7'],
    ['C', -6, 'F7 F6 Bbm6 Dbmaj7', 'B7 Cb6 Em6 Gmaj7'],
    ['C', 4, 'G#m7 Bmaj7 B7', 'Cm7 Ebmaj7 D#7'],
    ['Am', 6, 'Am7 G#dim7 E7 Bm7b5', 'D#m7 Ddim7 A#7 E#m7b5'],
  ])('of chords in %s, at a signature of %i, is plain: %s', (key, fifths, chords, expected) => {
    const bars = chords.split(' ').join(' | ');
    const moved = toKey(chartOf(`title: a\nkey: ${key}\nmeter: 4/4\n| ${bars} |`), fifths);
    expect(symbolsOf(formOf(moved)).join(' ')).toBe(expected);
  });

  it.each([
    // Sharp side of C: E7, A7 and B7 are A#7, D#7 and F7 in F#, but Bb7, Eb7 and Cb7, written B7, in Gb.
    ['C6 | E7 | A7 | D7', 'Gb'],
    ['C6 | Fm6 | Bb7 | Eb7', 'F#'],
  ])('of F# and Gb takes the one in which %s has fewer accidentals', (bars, key) => {
    const chart = chartOf(`title: a\nkey: C\nmeter: 4/4\n| ${bars} |`);
    for (const by of [6, -6]) {
      const moved = transposeChart(chart, by);
      expect(formatKey(moved.key)).toBe(key);
      expect(transposeToEasierKey(moved)).toBe(moved);
    }
    // A key that is named is kept.
    expect([formatKey(toKey(chart, 6).key), formatKey(toKey(chart, -6).key)]).toEqual(['F#', 'Gb']);
    expect(formatKey(transposeToEasierKey(toKey(chart, key === 'F#' ? -6 : 6)).key)).toBe(key);
  });

  it('spells a root that would have two accidentals under its other name, palette and bass with it', () => {
    // Db + m6 = Bbb, shown as A.
    const chart = chartOf('title: a\nkey: C\nmeter: 4/4\n| Db7/F <mixolydian> | C |');
    const moved = toKey(chart, -4);
    expect(symbolsOf(formOf(moved))).toEqual(['A7/C#', 'Ab']);
    expect(formOf(moved).bars[0]?.chords[0]?.chosen?.palette.notes).toEqual([
      'A',
      'B',
      'C#',
      'D',
      'E',
      'F#',
      'G',
    ]);
  });

  it('moves palettes that name notes or another root, and keeps the words of those on the chord', () => {
    const bars = '| Cm7 <C D Eb F# G A Bb> | Dm7b5 <F melodic minor> | G7 <phrygian dominant> |';
    const moved = transposeChart(chartOf(textOf(bars)), INTERVALS.M2);
    const texts = barsOf(moved).flatMap(({ content }) =>
      content.kind === 'chords' ? content.chords.map(({ given }) => given?.text) : [],
    );
    expect(texts).toEqual(['D E F G# A B C', 'G melodic minor', 'phrygian dominant']);
  });

  it('moves plans too, and N.C. not at all', () => {
    const moved = transposeChart(chartOf(textOf('| C N.C. |\nplan: p\n| F |')), INTERVALS.P5);
    expect(symbolsOf(formOf(moved))).toEqual(['G N.C.']);
    expect(symbolsOf(formOf(moved, 'p'))).toEqual(['C']);
  });

  it('does not turn a minor chart into a major one', () => {
    const chart = chartOf('title: a\nkey: Am\nmeter: 4/4\n| Am |');
    expect(transposeToKey(chart, { tonic: 0, mode: 'major' })).toMatchObject({
      ok: false,
      problems: [{ code: 'otherMode', read: 'C', suggestion: 'Cm' }],
    });
  });
});

/** Roots that keep one accidental at most when moved seven fifths either way. */
const INNER_ROOTS = ['C', 'D', 'E', 'F', 'G', 'A'];

describe('laws of transposition', () => {
  it('there and back through all twelve keys is the identity', () => {
    fc.assert(
      fc.property(
        arbitraryChart({ maxFifths: 1, roots: INNER_ROOTS, basses: ['', '/G'] }),
        (chart) => {
          for (let fifths = -6; fifths <= 5; fifths++) {
            const there = toKey(chart, fifths);
            expect(keyFifths(there.key)).toBe(fifths);
            expect(toKey(there, keyFifths(chart.key))).toEqual(chart);
          }
        },
      ),
      { numRuns: runs(60, 20), seed: 20_261_129 },
    );
  });

  it('there and back by an interval is the identity', () => {
    const interval = fc.constantFrom(
      INTERVALS.m2,
      INTERVALS.M2,
      INTERVALS.m3,
      INTERVALS.M3,
      INTERVALS.P4,
      INTERVALS.P5,
    );
    fc.assert(
      fc.property(
        arbitraryChart({ maxFifths: 1, roots: INNER_ROOTS, basses: ['', '/G'] }),
        interval,
        (chart, by) => {
          expect(transposeChart(transposeChart(chart, by), -by)).toEqual(chart);
        },
      ),
      { numRuns: runs(100, 25), seed: 20_261_129 },
    );
  });

  it('moves every pitch class by the same amount and never spells a root with two accidentals', () => {
    fc.assert(
      fc.property(arbitraryChart(), arbitraryKey(), (chart, target) => {
        const key = { ...target, mode: chart.key.mode };
        const moved = transposeToKey(chart, key);
        if (!moved.ok) throw new Error('same mode by construction');
        const shift = ((((key.tonic - chart.key.tonic) * 7) % 12) + 12) % 12;
        const pcs = (all: readonly number[], by: number) =>
          all.map((root) => (((root * 7 + by) % 12) + 120) % 12);
        expect(pcs(rootsOf(moved.value), 0)).toEqual(pcs(rootsOf(chart), shift));
        for (const root of rootsOf(moved.value))
          expect(Math.abs(toneAlter(root))).toBeLessThanOrEqual(1);
        const palettes = (one: Chart) =>
          barsOf(one).flatMap(({ content }) =>
            content.kind === 'chords'
              ? content.chords.flatMap(({ given }) => given?.palette.pcs ?? [])
              : [],
          );
        expect(palettes(moved.value)).toEqual(palettes(chart).map((pc) => (pc + shift) % 12));
      }),
      { numRuns: runs(200, 50), seed: 20_261_129 },
    );
  });

  it('gives a chart that can be written and read again', () => {
    fc.assert(
      fc.property(arbitraryChart(), fc.integer({ min: -7, max: 7 }), (chart, by) => {
        const moved = transposeChart(chart, by);
        expect(parseChart(formatChart(moved))).toEqual({ ok: true, value: moved });
      }),
      { numRuns: runs(200, 50), seed: 20_261_129 },
    );
  });

  it('keeps the signature within six where the interval asks for more', () => {
    fc.assert(
      fc.property(
        arbitraryChart({ maxFifths: 6 }),
        fc.integer({ min: -11, max: 11 }),
        (chart, by) => {
          expect(Math.abs(keyFifths(transposeChart(chart, by).key))).toBeLessThanOrEqual(6);
        },
      ),
      { numRuns: runs(100, 25), seed: 20_261_129 },
    );
  });
});
