import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type ChoiceInput,
  choosePalettes,
  chordPcs,
  formatPaletteText,
  type Key,
  paletteMask,
  parsePaletteText,
  pcMask,
  simplifyTone,
  tonePc,
  transposeChordSymbol,
} from '../../../src/core/theory/index.ts';
import { runs } from '../../helpers/runs.ts';
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
  .map((parts) => chord(parts.join('')));
const keys: fc.Arbitrary<Key> = fc.record({
  tonic: fc.integer({ min: -7, max: 7 }),
  mode: fc.constantFrom('major', 'minor'),
});
const inputs: fc.Arbitrary<ChoiceInput> = fc.record({
  symbol: symbols,
  key: keys,
  before: fc.array(symbols, { maxLength: 3 }),
  after: fc.array(symbols, { maxLength: 4 }),
});

function deepFreeze<Value>(value: Value): Value {
  if (typeof value === 'object' && value !== null) {
    for (const part of Object.values(value)) deepFreeze(part);
    Object.freeze(value);
  }
  return value;
}

/** The documented exceptions: these two may leave out a dominant's perfect fifth, phrygian dominant its sharp ninth. */
const WITHOUT_FIFTH = ['altered', 'whole tone'];

describe('laws of the choice', () => {
  it('there are one to eight, no two alike', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        const choices = choosePalettes(deepFreeze(input));
        expect(choices.length).toBeGreaterThanOrEqual(1);
        expect(choices.length).toBeLessThanOrEqual(8);
        const sets = choices.map(
          ({ palette }) => `${palette.root} ${paletteMask(palette)} ${palette.falling === null}`,
        );
        expect(new Set(sets).size).toBe(sets.length);
        const names = choices.map(({ palette }) => palette.name);
        expect(new Set(names).size).toBe(names.length);
      }),
      { numRuns: runs(1000, 200), seed: 20_261_129 },
    );
  });

  it('every palette holds the tones of its chord, but for a fifth or a sharp ninth given up', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        const { symbol } = input;
        for (const [index, { palette }] of choosePalettes(input).entries()) {
          const missing = pcMask(chordPcs(symbol)) & ~paletteMask(palette);
          if (missing === 0) continue;
          const sharpNinth = 1 << tonePc(symbol.root + 9);
          if (missing === sharpNinth && palette.name === 'phrygian dominant') {
            expect(symbol.family).toBe('dominant');
            expect(index).toBeGreaterThan(0);
            continue;
          }
          expect(missing).toBe(1 << tonePc(symbol.root + 1));
          expect(symbol.family).toBe('dominant');
          expect(WITHOUT_FIFTH).toContain(palette.name);
          const hasSharpNine = symbol.tones.some(({ interval }) => interval === 9);
          expect(index > 0 || hasSharpNine).toBe(true);
        }
      }),
      { numRuns: runs(2000, 400), seed: 20_261_129 },
    );
  });

  it('every palette stands on the root of the chord and reads back from its text', () => {
    fc.assert(
      fc.property(inputs, (input) => {
        for (const { palette, reason } of choosePalettes(input)) {
          expect(palette.pcs[0]).toBe(tonePc(input.symbol.root));
          const text = formatPaletteText(palette, input.symbol.root);
          const read = parsePaletteText(text, input.symbol.root);
          expect(read).toEqual({ ok: true, value: palette });
          expect(reason.length).toBeGreaterThan(10);
        }
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  it('the choice is the same in every key', () => {
    fc.assert(
      fc.property(inputs, fc.integer({ min: -5, max: 6 }), (input, by) => {
        const moved: ChoiceInput = {
          symbol: transposeChordSymbol(input.symbol, by),
          key: { ...input.key, tonic: simplifyTone(input.key.tonic + by) },
          before: input.before.map((symbol) => transposeChordSymbol(symbol, by)),
          after: input.after.map((symbol) => transposeChordSymbol(symbol, by)),
        };
        const names = (choice: ChoiceInput) =>
          choosePalettes(choice).map(({ palette, reason, colour }) => [
            palette.name,
            reason,
            colour,
          ]);
        const named = names(input);
        fc.pre(named[0]?.[0] !== 'notes');
        expect(names(moved)).toEqual(named);
      }),
      { numRuns: runs(500, 100), seed: 20_261_129 },
    );
  });

  it('most chords get at least three choices', () => {
    const counts = QUALITIES.map(
      (quality) =>
        choosePalettes({
          symbol: chord(`F${quality}`),
          key: { tonic: -1, mode: 'major' },
          before: [],
          after: [],
        }).length,
    );
    const few = counts.filter((count) => count < 3).length;
    expect(few / counts.length).toBeLessThan(0.2);
  });
});
