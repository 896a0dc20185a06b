import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { MAX_SYMBOL_LENGTH, parseChordSymbol } from '../../../src/core/theory/index.ts';
import { QUALITIES, ROOTS } from './symbols.ts';

function problemOf(text: string) {
  const result = parseChordSymbol(text);
  if (result.ok) throw new Error(`${text} reads`);
  const [problem] = result.problems;
  if (problem === undefined) throw new Error('a failure without a problem');
  return problem;
}

describe('a symbol that does not read', () => {
  it.each([
    ['', 'empty', 0, '', null],
    ['   ', 'empty', 3, '', null],
    ['X7', 'root', 0, 'X7', null],
    ['c7', 'root', 0, 'c7', 'C7'],
    ['bb7', 'root', 0, 'bb7', 'Bb7'],
    ['H7', 'root', 0, 'H7', 'B7'],
    ['Eflat7', 'quality', 1, 'flat7', 'Eb7'],
    ['Fis', 'quality', 1, 'is', 'F#'],
    ['Cmjr7', 'quality', 3, 'r7', 'Cmj7'],
    ['C7b9#12', 'quality', 4, '#12', 'C7b9#11'],
    ['  C7b9#12', 'quality', 6, '#12', 'C7b9#11'],
    ['Cmaj77', 'quality', 5, '7', 'Cmaj7'],
    ['Cdom', 'quality', 4, '', 'Cdom7'],
    ['Cm+7', 'quality', 2, '+7', 'Cm(maj7)'],
    ['C-5', 'quality', 2, '5', 'C(b5)'],
    ['C+11', 'quality', 1, '+11', 'C7#11'],
    ['Cadd9m', 'quality', 5, 'm', 'Cadd9'],
    ['C4', 'quality', 1, '4', 'Csus4'],
    ['Ch7', 'quality', 1, 'h7', 'Cø7'],
    ['Calt7', 'quality', 4, '7', 'Calt'],
    ['C7alt#9', 'quality', 5, '#9', 'C7alt'],
    ['C7 b9', 'space', 2, ' b9', 'C7b9'],
    ['C7 (b9)', 'space', 2, ' (b9)', 'C7(b9)'],
    ['C7(b9', 'parenthesis', 2, '(b9', 'C7(b9)'],
    ['C7b9)', 'parenthesis', 4, ')', 'C7b9'],
    ['C7()', 'parenthesis', 2, '()', 'C7'],
    ['C/e', 'bass', 2, 'e', 'C/E'],
    ['C/', 'bass', 2, '', 'C'],
    ['Cmaj7/Q', 'bass', 6, 'Q', 'Cmaj7'],
    ['D/C7', 'polychord', 2, 'C7', 'D'],
    ['C|D', 'polychord', 1, '|D', 'C'],
    ['Cm7b5/Gb/A', 'polychord', 6, 'Gb/A', 'Cm7b5'],
    ['Cconstructor', 'quality', 1, 'constructor', null],
    ['C__proto__', 'quality', 1, '__proto__', null],
    ['CtoString', 'quality', 1, 'toString', null],
    ['C😀', 'quality', 1, '😀', null],
    ['A♭♯9', 'quality', 2, '♯9', 'Ab(#9)'],
    ['CmMaj', 'quality', 5, '', 'CmMaj7'],
    ['C+maj', 'quality', 5, '', 'C+maj7'],
    ['C,7', 'quality', 1, ',7', 'C7'],
    ['C\\D', 'polychord', 1, '\\D', 'C'],
    ['C7((b9))', 'parenthesis', 3, '(b9))', 'C7(b9)'],
    ['C7( )', 'parenthesis', 2, '( )', 'C7'],
    // The bass is no part of what was not understood.
    ['Cm7x/G', 'quality', 3, 'x', 'Cm7/G'],
    // Blanks before a symbol count for the place, not for the cure.
    ['  D/C7', 'polychord', 4, 'C7', 'D'],
  ])('%j', (text, code, offset, read, suggestion) => {
    const problem = problemOf(text);
    expect([problem.code, problem.offset, problem.read]).toEqual([code, offset, read]);
    expect(problem.suggestion).toBe(suggestion);
  });

  it('has one problem with words that say what could stand there', () => {
    const result = parseChordSymbol('C7xyz');
    expect(result.ok ? 0 : result.problems.length).toBe(1);
    expect(problemOf('C7xyz').expected).toContain('b9');
  });

  it.each([
    ['CmMaj', '7, 9, 11 or 13 after the maj'],
    ['Cdom', '7, 9, 11 or 13 after dom'],
    ['C7(b9', 'a closing parenthesis'],
    ['C7((b9))', 'a closing parenthesis'],
    ['C7b9)', 'an opening parenthesis'],
    ['C7()', 'something inside the parentheses'],
    ['C7 b9', 'no space outside parentheses'],
    ['C|D', 'one bass note after the slash'],
    ['C7alt#9', 'without further alterations'],
    ['C7b9b9', 'each alteration, addition or omission once'],
  ])('%s is told what was expected: %s', (text, words) => {
    expect(problemOf(text).expected).toContain(words);
  });

  it.each([
    ['C7(69)', 3, '69)'],
    ['C7b9b9', 4, 'b9'],
    ['C7b9-9', 4, '-9'],
    ['C7no5no5', 5, 'no5'],
    ['Cadd9(add9)', 6, 'add9)'],
    // `+5` is the sharp fifth already.
    ['C+5#5', 3, '#5'],
    // Words of one and two letters are read as written.
    ['C7B5', 2, 'B5'],
    ['Csus4sus4', 5, 'sus4'],
    // A head comes first.
    ['C7m', 2, 'm'],
    ['C(b5,add9)m', 10, 'm'],
    ['C(add9)(no5)m', 12, 'm'],
    // M makes a seventh major straight after its number, and once.
    ['C9M', 2, 'M'],
    ['C7maj', 2, 'maj'],
    ['C7(M)', 3, 'M)'],
    ['Cmaj7M', 5, 'M'],
    ['Cdom7M', 5, 'M'],
    ['CmMajM7', 5, 'M7'],
    // A triangle brings its own seventh.
    ['C7Δ', 2, 'Δ'],
    ['C9^', 2, '^'],
    ['CmajΔ', 4, 'Δ'],
    ['Cm9Δ13', 4, '13'],
    // C(6) is C6, which has no seventh; a fifth is bare or none.
    ['C(6)7', 4, '7'],
    ['C7+7', 3, '7'],
    ['Csus5', 4, '5'],
    // alt stands alone or after 7.
    ['C-alt', 2, 'alt'],
    ['C9alt', 2, 'alt'],
    ['C7susalt', 5, 'alt'],
    ['C7b9alt', 4, 'alt'],
    ['C7(b9,add4)alt', 11, 'alt'],
    ['C7(add4)(no5)alt', 13, 'alt'],
  ])('%s is understood up to offset %i', (text, offset, read) => {
    const problem = problemOf(text);
    expect([problem.code, problem.offset, problem.read]).toEqual(['quality', offset, read]);
  });

  it('may be as long as the limit, and no longer', () => {
    const longest = 'C#min13(b5,#5,b9,#9,#11,b13,#4,b6,add2,add4)/Bbb';
    expect(longest.length).toBe(MAX_SYMBOL_LENGTH);
    expect(parseChordSymbol(longest).ok).toBe(true);
    expect(problemOf('x'.repeat(MAX_SYMBOL_LENGTH)).code).toBe('root');
    expect(problemOf('x'.repeat(MAX_SYMBOL_LENGTH + 1)).code).toBe('tooLong');
  });

  it('of any length is refused in bounded time and space', () => {
    const problem = problemOf(`C${'7b9('.repeat(250_000)}`);
    expect(problem.code).toBe('tooLong');
    expect(problem.read.length).toBeLessThanOrEqual(MAX_SYMBOL_LENGTH);
  });
});

/** Text near to chord symbols, so that the fuzz reaches every branch. */
const nearChord = fc
  .array(
    fc.oneof(
      fc.constantFrom(...ROOTS, ...QUALITIES, '/', '(', ')', ',', ' ', '|', '♭', '𝄪', '+', '-'),
      fc.string({ unit: 'grapheme', maxLength: 3 }),
    ),
    { maxLength: 6 },
  )
  .map((parts) => parts.join(''));

describe('laws of problems', () => {
  it('a symbol never throws, and a problem stands within the text', () => {
    fc.assert(
      fc.property(nearChord, (text) => {
        const result = parseChordSymbol(text);
        if (result.ok) return;
        for (const { offset, read } of result.problems) {
          expect(offset).toBeGreaterThanOrEqual(0);
          expect(offset).toBeLessThanOrEqual(text.length);
          expect(text.slice(offset).startsWith(read)).toBe(true);
        }
      }),
      { numRuns: 3000 },
    );
  });

  it('a suggestion always reads and is another text', () => {
    fc.assert(
      fc.property(nearChord, (text) => {
        const result = parseChordSymbol(text);
        if (result.ok) return;
        for (const { suggestion } of result.problems) {
          if (suggestion === null) continue;
          expect(suggestion).not.toBe(text);
          expect(parseChordSymbol(suggestion).ok).toBe(true);
        }
      }),
      { numRuns: 3000 },
    );
  });
});
