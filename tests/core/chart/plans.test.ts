import { describe, expect, it } from 'vitest';
import { parseChart, planNames, unrollForm } from '../../../src/core/chart/index.ts';
import { chartOf, formOf, problemsOf, symbolsOf, textOf } from './reading.ts';

const PLAIN_BARS = '[A]\n|: C | F :|\n[B]\n(3/4)\n| G | % |\n';

describe('plans', () => {
  it('lays its bars over the form, % keeping the bar of plain', () => {
    const chart = chartOf(textOf(`${PLAIN_BARS}plan: side door\n| D | % | % | A |`));
    expect(planNames(chart)).toEqual(['plain', 'side door']);
    expect(symbolsOf(formOf(chart, 'side door'))).toEqual(['D', 'F', 'D', 'F', 'G', 'A']);
    expect(symbolsOf(formOf(chart))).toEqual(['C', 'F', 'C', 'F', 'G', 'G']);
  });

  it('keeps the bar of plain where plain itself says %', () => {
    const chart = chartOf(textOf('| C | % |\nplan: p\n| D | % |'));
    expect(symbolsOf(formOf(chart, 'p'))).toEqual(['D', 'C']);
  });

  it('takes sections, repeat signs and meters of the form, or leaves them out', () => {
    const bare = chartOf(textOf(`${PLAIN_BARS}plan: p\n| D | E | A | B |`));
    const full = chartOf(textOf(`${PLAIN_BARS}plan: p\n[A]\n|: D | E :|\n[B]\n(3/4)\n| A | B |`));
    expect(full).toEqual(bare);
    expect(formOf(full, 'p').bars.map(({ section }) => section)).toEqual([
      'A',
      'A',
      'A',
      'A',
      'B',
      'B',
    ]);
  });

  it('shares the beats of the meter that the chart has there', () => {
    const chart = chartOf(textOf(`${PLAIN_BARS}plan: p\n| % | % | D A | % |`));
    expect(formOf(chart, 'p').bars[4]?.chords.map(({ beats }) => beats)).toEqual([2, 1]);
  });

  // PLAIN_BARS are lines 4 to 8; the plan's name is in line 9.
  it.each([
    ['plan: p\n| D | E | A |', 'planLength 9:7'],
    ['plan: p\n| D | E | A | B | C |', 'planLength 9:7'],
    ['plan: p', 'planLength 9:7'],
    ['plan: plain\n| % | % | % | % |', 'reservedPlanName 9:7'],
    ['plan: Plain\n| % | % | % | % |', 'reservedPlanName 9:7'],
    ['plan:\n| % | % | % | % |', 'emptyPlanName 9:6'],
    ['plan: p\n| % | % | % | % |\nplan: P\n| % | % | % | % |', 'duplicatePlan 11:7'],
    ['plan: p\n[A]\n| % |\n[B]\n| % | % | % |', 'planSection 12:1'],
    ['plan: p\n[Z]\n| % | % | % | % |', 'planSection 10:1'],
    ['plan: p\n| % |: % | % | % |', 'planRepeat 10:5'],
    ['plan: p\n|: % :| % | % | % |', 'planRepeat 10:6'],
    ['plan: p\n| % |1 % | % | % |', 'planRepeat 10:5'],
    ['plan: p\n| % | % | (4/4) | % | % |', 'planMeter 10:11'],
    ['plan: p\n| % | % | Q | % |', 'unknownChord 10:11'],
    ['plan: p\n| % | % | D E A B | % |', 'beatsDoNotFit 10:11'],
  ])('%j is refused', (plan, problem) => {
    expect(problemsOf(textOf(PLAIN_BARS + plan))).toEqual([problem]);
  });

  it('says how many bars were found and how many expected', () => {
    expect(parseChart(textOf('| C | F |\nplan: p\n| D |'))).toMatchObject({
      ok: false,
      problems: [
        { code: 'planLength', read: '1 bar in plan p', expected: '2 bars, as in the chart' },
      ],
    });
  });

  it('does not count against a form whose bar lines are wrong', () => {
    expect(problemsOf(textOf('| C | | F |\nplan: p\n| D | E |'))).toEqual(['emptyBar 4:7']);
  });

  it('names the known plans when asked for another', () => {
    const chart = chartOf(textOf('| C |\nplan: side door\n| D |'));
    const outcome = unrollForm(chart, 'side dor');
    expect(outcome).toMatchObject({
      ok: false,
      problems: [{ code: 'unknownPlan', read: 'side dor', suggestion: 'side door' }],
    });
    expect(outcome.ok ? '' : outcome.problems[0]?.expected).toMatch(/plain, side door/u);
  });
});

describe('all problems at once', () => {
  it('lists the problems of headers, bars, palettes and plans in order of place', () => {
    const text = [
      'title: Pier Lights', // 1
      'key: H', // 2
      'meter: 4/4', // 3
      'tempo: fast', // 4
      '[A]', // 5
      '| Cm7 | Xyz | C F G A B |', // 6
      '| G7 <doriann> | | F', // 7
      'plan: plain', // 8
      '| % | C <> | % | % |', // 9
    ].join('\n');
    expect(problemsOf(text)).toEqual([
      'unknownKey 2:6',
      'unknownTempo 4:8',
      'unknownChord 6:9',
      'beatsDoNotFit 6:15',
      'unknownPalette 7:7',
      'emptyBar 7:18',
      'barNotClosed 7:21',
      'reservedPlanName 8:7',
      'emptyPalette 9:9',
    ]);
  });
});
