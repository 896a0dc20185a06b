import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  chordPcs,
  formatChordSymbol,
  formatTone,
  INTERVALS,
  parseChordSymbol,
  toneAlter,
  tonePc,
  transposeChordSymbol,
} from '../../../src/core/theory/index.ts';
import { chord, QUALITIES, ROOTS } from './symbols.ts';

const symbols = fc
  .tuple(
    fc.constantFrom(...ROOTS),
    fc.constantFrom(...QUALITIES),
    fc.oneof(
      fc.constant(''),
      fc.constantFrom(...ROOTS).map((bass) => `/${bass}`),
    ),
  )
  .map((parts) => parts.join(''));
/** Both plain and musical signs; such a symbol is moved in musical ones. */
function mixesSigns(text: string): boolean {
  return /[♭♯]/u.test(text) && /[A-G][b#]/.test(text);
}

const intervals = fc.constantFrom(...Object.values(INTERVALS));

describe('laws of chord symbols', () => {
  it('writing and reading back gives the same symbol', () => {
    fc.assert(
      fc.property(symbols, (text) => {
        const symbol = chord(text);
        expect(formatChordSymbol(symbol)).toBe(text);
        expect(parseChordSymbol(formatChordSymbol(symbol))).toEqual({ ok: true, value: symbol });
      }),
    );
  });

  it('a moved symbol reads back as itself', () => {
    fc.assert(
      fc.property(symbols, intervals, (text, by) => {
        const moved = transposeChordSymbol(chord(text), by);
        expect(parseChordSymbol(formatChordSymbol(moved))).toEqual({ ok: true, value: moved });
      }),
      { numRuns: 1000 },
    );
  });

  it('moving moves every pitch class by the interval', () => {
    fc.assert(
      fc.property(symbols, intervals, (text, by) => {
        const symbol = chord(text);
        const wanted = chordPcs(symbol).map((pc) => (pc + tonePc(by)) % 12);
        expect(chordPcs(transposeChordSymbol(symbol, by))).toEqual(wanted);
      }),
    );
  });

  it('up and back restores a symbol none of whose names had to be simplified', () => {
    fc.assert(
      fc.property(symbols, intervals, (text, by) => {
        const symbol = chord(text);
        const written = [symbol.root, ...(symbol.bass === null ? [] : [symbol.bass])];
        fc.pre(written.every((tone) => Math.abs(toneAlter(tone + by)) <= 1));
        fc.pre(!mixesSigns(text));
        expect(transposeChordSymbol(transposeChordSymbol(symbol, by), -by)).toEqual(symbol);
      }),
    );
  });

  it('no moved root or bass has a double accidental', () => {
    fc.assert(
      fc.property(symbols, intervals, (text, by) => {
        const { root, bass } = transposeChordSymbol(chord(text), by);
        for (const tone of bass === null ? [root] : [root, bass])
          expect(formatTone(tone)).toMatch(/^[A-G][b#]?$/);
      }),
    );
  });

  it('keeps the quality as written and the style of the accidentals', () => {
    const minorThird = INTERVALS.m3;
    expect(transposeChordSymbol(chord('B♭m7♭5/D♭'), minorThird).text).toBe('D♭m7♭5/F♭');
    expect(transposeChordSymbol(chord('C-Δ7'), minorThird).text).toBe('Eb-Δ7');
    expect(transposeChordSymbol(chord('C6/9/G'), minorThird).text).toBe('Eb6/9/Bb');
    expect(transposeChordSymbol(chord('Db7'), INTERVALS.m6).text).toBe('A7');
  });

  it('is the very same when moved by nothing, even where its name is no simple one', () => {
    const symbol = chord('Bbb7/Fb');
    expect(transposeChordSymbol(symbol, INTERVALS.P1)).toEqual(symbol);
  });

  it('moves to a root whose own accidental cannot run into the quality', () => {
    const moved = transposeChordSymbol(chord('C(b5)'), INTERVALS.m2);
    expect(moved.text).toBe('Db(b5)');
    expect(chordPcs(chord(moved.text))).toEqual([1, 5, 7]);
  });
});
