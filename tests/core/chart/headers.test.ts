import { describe, expect, it } from 'vitest';
import { applyEdits, formatChart, parseChart } from '../../../src/core/chart/index.ts';
import { chartOf, problemsOf } from './reading.ts';

const NEEDED = 'title: Pier Lights\nkey: F#m\nmeter: 12/8';

describe('header lines', () => {
  it('reads title, key, meter and tempo', () => {
    const chart = chartOf(`${NEEDED}\ntempo: 66.5\n| C |`);
    expect(chart).toMatchObject({
      title: 'Pier Lights',
      // F# is 6 on the line of fifths
      key: { tonic: 6, mode: 'minor' },
      meter: { count: 12, unit: 8 },
      tempoBpm: 66.5,
    });
  });

  it('has no tempo when none is named', () => {
    expect(chartOf(`${NEEDED}\n| C |`).tempoBpm).toBeNull();
  });

  it('keeps every other header in order, known or not, even twice, even named like an inherited member', () => {
    const lines = [
      'composer: the house trio',
      'Feel: slow: very',
      'note: one',
      'note: two',
      'constructor: x',
      'toString:',
    ];
    const chart = chartOf(`${lines.join('\n')}\n${NEEDED}\n| C |`);
    expect(chart.headers).toEqual([
      { name: 'composer', value: 'the house trio' },
      { name: 'Feel', value: 'slow: very' },
      { name: 'note', value: 'one' },
      { name: 'note', value: 'two' },
      { name: 'constructor', value: 'x' },
      { name: 'toString', value: '' },
    ]);
  });

  it('takes known names in any letter case and keeps colons and bar lines of a value', () => {
    const chart = chartOf('TITLE: Pier: a | walk\nKey:Bb\n meter :  4/4 \n| C |');
    expect(chart.title).toBe('Pier: a | walk');
    expect(chart.headers).toEqual([]);
  });

  it.each([
    ['tempo: 10', 10],
    ['tempo: 400', 400],
  ])('%s is at the edge of the range and taken', (line, tempoBpm) => {
    expect(chartOf(`${NEEDED}\n${line}\n| C |`).tempoBpm).toBe(tempoBpm);
  });

  it.each([
    'tempo: 9.99',
    'tempo: 401',
    'tempo: fast',
    'tempo: 66 bpm',
    'tempo: -60',
    'tempo: 1e2',
  ])('%s is refused at its value', (line) => {
    expect(problemsOf(`${NEEDED}\n${line}\n| C |`)).toEqual(['unknownTempo 4:8']);
  });

  it.each(['2/4', '3/4', '4/4', '5/4', '6/4', '7/4', '2/2', '3/2', '6/8', '9/8', '12/8'])(
    'meter %s is taken',
    (meter) => {
      const [count, unit] = meter.split('/').map(Number);
      expect(chartOf(`title: a\nkey: C\nmeter: ${meter}\n| C |`).meter).toEqual({ count, unit });
    },
  );

  it.each([
    ['5/8', [3, 2], '5/8'],
    ['2+3/8', [2, 3], '2+3/8'],
    ['3+2/8', [3, 2], '5/8'],
    ['7/8', [2, 2, 3], '7/8'],
    ['3+2+2/8', [3, 2, 2], '3+2+2/8'],
    ['4+3/8', [4, 3], '4+3/8'],
  ])('meter %s has the groups %j', (meter, groups, written) => {
    const chart = chartOf(`title: a\nkey: C\nmeter: ${meter}\n| C |\n(3+2+2/8) | F |`);
    expect(chart.meter.groups).toEqual(groups);
    expect(chart.sections[0]?.bars[1]?.meter.groups).toEqual([3, 2, 2]);
    expect(formatChart(chart)).toContain(`meter: ${written}`);
    expect(chartOf(formatChart(chart))).toEqual(chart);
  });

  it.each([
    '1/4',
    '8/4',
    '3/8',
    '4/8',
    '1/2',
    '4/2',
    '8/8',
    '4+4/8',
    '2+2/8',
    '2+1+2/8',
    '4',
    'C',
    '4/4/4',
    '04/4',
  ])('meter %s is refused', (meter) => {
    expect(problemsOf(`title: a\nkey: C\nmeter: ${meter}\n| C |`)).toEqual(['unknownMeter 3:8']);
  });

  it.each([
    ['H', null],
    ['bb', 'Bb'],
    ['f#M', 'F#m'],
    ['G#', 'Ab'],
    ['Dbm', 'C#m'],
    ['Fb', 'E'],
    ['constructor', null],
  ])('key %s is refused, nearest %s', (key, suggestion) => {
    const outcome = parseChart(`title: a\nkey: ${key}\nmeter: 4/4\n| C |`);
    expect(outcome).toMatchObject({
      ok: false,
      problems: [{ code: 'unknownKey', line: 2, column: 6, read: key, suggestion }],
    });
  });

  it.each(['C#', 'Cb', 'A#m', 'Abm', 'B♭', 'E♭ minor', 'F♯m'])('key %s is taken', (key) => {
    expect(problemsOf(`title: a\nkey: ${key}\nmeter: 4/4\n| C |`)).toEqual([]);
  });

  it('asks for a title, and for nothing else', () => {
    expect(problemsOf('| C |')).toEqual(['missingTitle 1:1']);
  });

  it('takes 4/4 where no meter is named', () => {
    const chart = chartOf('title: a\nkey: C\n| C |');
    expect(chart).toMatchObject({ meter: { count: 4, unit: 4 }, meterGiven: false });
    expect(formatChart(chart)).not.toContain('meter');
    expect(chartOf(formatChart(chart))).toEqual(chart);
  });

  it('points at a misspelt header and says its right name', () => {
    const outcome = parseChart('titel: Pier Lights\nkey: C\nmetre: 4/4\n| C |');
    expect(outcome).toMatchObject({
      ok: false,
      problems: [
        {
          code: 'misspeltHeader',
          line: 1,
          column: 1,
          read: 'titel',
          suggestion: 'title: Pier Lights',
        },
        { code: 'misspeltHeader', line: 3, column: 1, read: 'metre', suggestion: 'meter: 4/4' },
      ],
    });
  });

  it.each([
    ['metre: 4/4', 'meter: 4/4'],
    ['Metter: 3/4', 'meter: 3/4'],
    ['ke: C', 'key: C'],
  ])('%s is fixed to %s', (slip, right) => {
    const text = `title: Pier Lights\n${slip}\n| C |`;
    const outcome = parseChart(text);
    const [problem] = outcome.ok ? [] : outcome.problems;
    expect(problem?.code).toBe('misspeltHeader');
    const fixed = problem?.fix ? applyEdits(text, [problem.fix]) : '';
    expect(fixed).toBe(`title: Pier Lights\n${right}\n| C |`);
    expect(problemsOf(fixed)).toEqual([]);
  });

  it.each(['Keys: piano', 'matter: of taste'])('takes %s for a header of another kind', (line) => {
    expect(chartOf(`title: a\n${line}\n| C |`).headers).toHaveLength(1);
  });

  it('refuses an empty value and a second one', () => {
    expect(problemsOf(`title:\nkey: C\nmeter: 4/4\n| C |`)).toEqual(['emptyHeader 1:7']);
    expect(problemsOf(`${NEEDED}\n  key: C\n| C |`)).toEqual(['duplicateHeader 4:3']);
  });

  it('refuses a header below the first bar or section', () => {
    expect(problemsOf(`${NEEDED}\n| C |\ntempo: 66\n| F |`)).toEqual(['headerAfterBars 5:1']);
    expect(problemsOf(`${NEEDED}\n[A]\nfeel: slow\n| F |`)).toEqual(['headerAfterBars 5:1']);
  });

  it('refuses a line that is nothing, and sees a forgotten colon', () => {
    const outcome = parseChart(`${NEEDED}\n  tempo 66\nhello\n| C |`);
    expect(outcome).toMatchObject({
      ok: false,
      problems: [
        { code: 'unknownLine', line: 4, column: 3, read: 'tempo 66', suggestion: 'tempo: 66' },
        { code: 'unknownLine', line: 5, column: 1, suggestion: null },
      ],
    });
  });
});
