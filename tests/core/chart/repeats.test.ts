import { describe, expect, it } from 'vitest';
import { barsOf, chartOf, formOf, problemsOf, symbolsOf, textOf } from './reading.ts';

describe('bar lines', () => {
  it('keeps repeats, endings and double bars where they stand', () => {
    const bars = barsOf(chartOf(textOf('|: C |1 F :|2 G || A |')));
    expect(
      bars.map(({ repeatStart, repeatEnd, ending, doubleAfter }) => ({
        repeatStart,
        repeatEnd,
        ending,
        doubleAfter,
      })),
    ).toEqual([
      { repeatStart: true, repeatEnd: false, ending: null, doubleAfter: false },
      { repeatStart: false, repeatEnd: true, ending: 1, doubleAfter: false },
      { repeatStart: false, repeatEnd: false, ending: 2, doubleAfter: true },
      { repeatStart: false, repeatEnd: false, ending: null, doubleAfter: false },
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
  expect(problemsOf(textOf('C :|'))).toEqual(['barNotOpened 4:1', 'repeatNotOpened 4:3']);
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
  ])('%s is played %s', (bars, expected) => {
    const form = formOf(chartOf(textOf(bars)));
    expect(symbolsOf(form).join(' ')).toBe(expected);
    expect(form.bars.map(({ bar }) => bar)).toEqual(form.bars.map((_, index) => index + 1));
  });
});

describe('repeat signs that do not add up', () => {
  it.each([
    ['|: A | B |', 'repeatNotClosed 4:1'],
    ['| A :|', 'repeatNotOpened 4:5'],
    [':| A |', 'repeatNotOpened 4:1'],
    ['| A |:', 'repeatNotClosed 4:5'],
    ['|: A |: B :|', 'nestedRepeat 4:6'],
    ['| A |1 B |', 'endingOutsideRepeat 4:5'],
    ['|: A :| B |1 C |', 'endingOutsideRepeat 4:11'],
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
