import { describe, expect, it } from 'vitest';
import { parseChart } from '../../../src/core/chart/index.ts';
import { barsOf, chartOf, formOf, problemsOf, symbolsOf, textOf } from './reading.ts';

describe('bar lines', () => {
  it('keeps repeats, endings and double bars where they stand', () => {
    const bars = barsOf(chartOf(textOf('|: C |1 F :|2 G || A |')));
    expect(
      bars.map(({ repeatStart, repeatEnd, endings, doubleAfter }) => [
        ...[repeatStart, repeatEnd, endings, doubleAfter],
      ]),
    ).toEqual([
      [true, false, [], false],
      [false, true, [1], false],
      [false, false, [2], true],
      [false, false, [], false],
    ]);
  });

  it('reads the bar line at the end of a line and the one at the start of the next as one', () => {
    expect(chartOf(textOf('|: C |\n|1 F :|\n|2 G ||\n| A |'))).toEqual(
      chartOf(textOf('|: C |1 F :|2 G || A |')),
    );
    expect(chartOf(textOf('|: C :|\n|: F :|'))).toEqual(chartOf(textOf('|: C :|: F :|')));
  });

  it('takes a double bar with a repeat sign', () => {
    const bars = barsOf(chartOf(textOf('| C ||: F :|| G |')));
    expect(
      bars.map(({ repeatStart, repeatEnd, doubleAfter }) => [repeatStart, repeatEnd, doubleAfter]),
    ).toEqual([
      [false, false, true],
      [true, true, true],
      [false, false, false],
    ]);
  });

  it.each([
    ['| C ||| F |', 'unknownBarLine 4:5'],
    ['| C : F |', 'unknownBarLine 4:5'],
    ['| C | | F |', 'emptyBar 4:7'],
    ['| C | F', 'barNotClosed 4:8'],
    ['C | F |', 'barNotOpened 4:1'],
    ['| C [B] |', 'unknownSection 4:5'],
    ['|:1 C :|', 'unknownChord 4:3'],
    ['[A\n| C |', 'unknownSection 4:1'],
    ['[]\n| C |', 'unknownSection 4:1'],
    ['[A]\n[B]\n| C |', 'emptySection 4:1'],
    ['| C |\n[B]', 'emptySection 5:1'],
  ])('%j is refused', (bars, problem) => {
    expect(problemsOf(textOf(bars))).toEqual([problem]);
  });
});

it('does not take a line with repeat signs for a header', () => {
  expect(problemsOf(textOf('C :|'))).toEqual(['barNotOpened 4:1']);
});

describe('the unrolled form', () => {
  it.each([
    ['| A | B |', 'A B'],
    ['|: A :| B |', 'A A B'],
    ['|: A | B :|', 'A B A B'],
    ['|: A |1 B :|2 C |', 'A B A C'],
    ['|: A |1 B :|2 C :|3 D |', 'A B A C A D'],
    ['| G |: A | B |1 C | D :|2 E | F | G |', 'G A B C D A B E F G'],
    ['|: A :|: B :|', 'A A B B'],
    ['|: A |1 B :|2 C |: D :| E |', 'A B A C D D E'],
    ['|: A |1 B :|2 C |: D |1 E :|2 F |', 'A B A C D E D F'],
    // `:|` without `|:`: from the start, from the last double bar, from the end of the repeat before.
    ['| A | B :| C |', 'A B A B C'],
    ['| A || B :| C |', 'A B B C'],
    ['| A :| B :| C |', 'A A B B C'],
    ['|: A :| B | C :|', 'A A B C B C'],
    ['| A |1 B :|2 C |', 'A B A C'],
    ['| A ||: B :| C :|', 'A B B C C'],
    // Endings for more than one time.
    ['|: A |1,2 B :|3 C |', 'A B A B A C'],
    ['|: A |1,3 B :|2 C :| D |', 'A B A C A B D'],
    ['|: A |1,3 B | E :|2 C :|4 D | F |', 'A B E A C A B E A D F'],
  ])('%s is played %s', (bars, expected) => {
    const form = formOf(chartOf(textOf(bars)));
    expect(symbolsOf(form).join(' ')).toBe(expected);
    expect(form.bars.map(({ bar }) => bar)).toEqual(form.bars.map((_, index) => index + 1));
  });
});

describe('repeat signs that do not add up', () => {
  it.each([
    ['|: A | B |', 'repeatNotClosed 4:1'],
    [':| A |', 'repeatNotOpened 4:1'],
    ['| A |:', 'repeatNotClosed 4:5'],
    ['|: A |: B :|', 'nestedRepeat 4:6'],
    ['| A |1 B |', 'endingOutOfOrder 4:8'],
    ['|: A :| B |1 C |', 'endingOutOfOrder 4:14'],
    ['| A |2 B |', 'endingOutsideRepeat 4:5'],
    ['|1 A :|2 B |', 'endingOutsideRepeat 4:1'],
    ['|: A |1,3 B :|2 C | D |', 'endingNotClosed 4:21'],
    ['|: A |1,1 B :|2 C |', 'endingOutOfOrder 4:6'],
    ['|: A |1,3 B :| C |', 'endingOutOfOrder 4:16'],
    ['|:\n|1 A :|2 B |', 'endingOutsideRepeat 5:1'],
    ['|: A |2 B :|1 C |', 'endingOutOfOrder 4:6'],
    ['|: A |1 B :|3 C |', 'endingOutOfOrder 4:11'],
    ['|: A |1 B |2 C |', 'endingNotClosed 4:11'],
    ['|: A |1 B :| C |', 'endingOutOfOrder 4:14'],
    ['|: A |1 B :|', 'endingOutOfOrder 4:9'],
    ['|: A |1 B |', 'endingOutOfOrder 4:1'],
    ['|: A |1 B :|2 C :|', 'endingOutOfOrder 4:15'],
    ['|: A |1 B |: C :|', 'nestedRepeat 4:11'],
    ['|: A :|2', 'endingOutOfOrder 4:6'],
  ])('%j', (bars, problem) => {
    expect(problemsOf(textOf(bars))[0]).toBe(problem);
  });
});

describe('marks of the form', () => {
  it.each([
    ['| A | B | (D.C.) |', 'A B A B'],
    ['| A | (fine) | B | (D.C. al fine) |', 'A B A'],
    ['| A (fine) | B (D.C.) |', 'A B A'],
    ['| A | (segno) B | (fine) | C | (D.S. al fine) |', 'A B C B'],
    ['| A | (coda) | B | (D.C. al coda) (coda) | C |', 'A B A C'],
    ['| A |\n(segno)\n| B | (coda) | C | (D.S. al coda) |\n(coda)\n| D | E |', 'A B C B D E'],
    // Repeats are not taken again: the last ending at once.
    ['|: A :| B | (D.C.) |', 'A A B A B'],
    ['|: A |1 B :|2 C | (fine) | D | (D.C. al fine) |', 'A B A C D A C'],
    ['|: A (fine) |1 B :|2 C | (D.C. al fine) |', 'A B A C A'],
    ['| A |: (segno) B :| C | (D.S.) |', 'A B B C B C'],
    ['|: A | (segno) B :| C | (D.S.) |', 'A B A B C B C'],
    // What comes after a jump is played when it is passed the second time.
    ['| A | (D.C.) | B |', 'A A B'],
    ['| A | (DC al Fine) | B (fine) | C |', 'A A B'],
  ])('%s is played %s', (bars, expected) => {
    expect(symbolsOf(formOf(chartOf(textOf(bars)))).join(' ')).toBe(expected);
  });

  it.each([
    ['| A | (D.S.) |', 'markWithoutTarget 4:7'],
    ['| A | (D.C. al fine) |', 'markWithoutTarget 4:7'],
    ['| A | (coda) | B | (D.C. al coda) |', 'markWithoutTarget 4:20'],
    ['| A (fine) B |', 'markInsideBar 4:5'],
    ['(fine)\n| A |', 'markMisplaced 4:1'],
    ['| A |\n(segno)', 'markMisplaced 5:1'],
    ['| A | (fine) | B | (fine) |', 'markTwice 4:20'],
    ['| A | (D.C.) (D.C.) |', 'markTwice 4:14'],
    ['| A | (fine) (D.C.) |', 'markMisplaced 4:14'],
    ['| A | (segno) | % | (D.S.) |', 'sameAfterRepeat 4:17'],
  ])('%s is refused', (bars, problem) => {
    expect(problemsOf(textOf(bars))).toEqual([problem]);
  });

  it('are named where a word in parentheses is nearly one', () => {
    expect(parseChart(textOf('| A | (sengo) | B |'))).toMatchObject({
      ok: false,
      problems: [{ code: 'unknownChord', suggestion: '(segno)' }],
    });
  });

  it('may stand in a plan as they stand in the chart, or be left out', () => {
    const plain = '| A | (fine) | B | (D.C.) |\nplan: p\n';
    expect(problemsOf(textOf(`${plain}| C | D |`))).toEqual([]);
    expect(problemsOf(textOf(`${plain}| C | (fine) | D | (D.C.) |`))).toEqual([]);
    expect(problemsOf(textOf(`${plain}| C | (segno) | D |`))).toEqual(['planMark 6:7']);
  });
});
