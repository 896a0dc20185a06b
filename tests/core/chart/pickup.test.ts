/** The pickup of a chart. Lengths and places are worked out by hand; what a pickup is: common practice, no source. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  applyEdits,
  editsTowards,
  formatChart,
  parseChart,
  pickupEdit,
  pickupText,
  readTree,
  sliceForm,
  transposeToKey,
} from '../../../src/core/chart/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { chartOf, contentOf, formOf, problemsOf } from './reading.ts';

const text = (pickup: string, bars = '| Fm7 | Bb7 |', meter = '4/4'): string =>
  `title: Gangplank\nkey: Eb\nmeter: ${meter}\npickup: ${pickup}\n${bars}\n`;

/** What stands in the pickup as `symbol@beat+beats`, with its length in eighths. */
function pickupOf(source: string): string {
  const { pickup, meter } = chartOf(source);
  if (pickup === null) return 'none';
  const content = { kind: 'chords', chords: pickup.chords } as const;
  const signs = {
    ...{ repeatStart: false, repeatEnd: false, endings: [], doubleAfter: false },
    ...{ startMark: null, endMark: null },
  };
  return `${pickup.eighths} ${contentOf({ content, meter, ...signs })}`.trim();
}

describe('a pickup is read', () => {
  test.each([
    ['1', '4/4', '2'],
    ['1.5', '4/4', '3'],
    ['3/8', '4/4', '3'],
    ['1/4', '4/4', '2'],
    ['7/8', '4/4', '7'],
    // Compound meters beat in dotted quarters: three eighths.
    ['1', '6/8', '3'],
    ['1/8', '6/8', '1'],
    ['5/8', '6/8', '5'],
    ['1 Bb7', '4/4', '2 Bb7@1+1'],
    ['2 Bb7', '3/4', '4 Bb7@1+2'],
    ['2 Fm7 Bb7', '4/4', '4 Fm7@1+1 Bb7@2+1'],
    ['1 Fm7 Bb7', '4/4', '2 Fm7@1+0.5 Bb7@1.5+0.5'],
    ['3 Fm7 / Bb7', '4/4', '6 Fm7@1+2 Bb7@3+1'],
    ['3 N.C. Bb7 <altered>', '4/4', '6 N.C.@1+2 Bb7@3+1'],
    // From the second half of a beat: two beats of the bar, the first one cut short.
    ['3/8 Fm7 Bb7', '4/4', '3 Fm7@1+1 Bb7@2+1'],
  ])('%s in %s', (written, meter, read) => {
    expect(pickupOf(text(written, '| Fm7 |', meter))).toBe(read);
  });

  test('in the meter of bar 1, where that is another than the chart’s', () => {
    expect(pickupOf(text('1', '(6/8)\n| Fm7 |'))).toBe('3');
    expect(problemsOf(text('3', '(3/4)\n| Fm7 |'))).toEqual(['unknownPickup 4:9']);
  });

  test('a chart without the line has none, and nothing else of it is changed', () => {
    const { pickup, ...rest } = chartOf(text('2 Fm7 Bb7'));
    const bare = chartOf(text('2').replace(/pickup.*\n/u, ''));
    expect(bare).toEqual({ ...rest, pickup: null });
    expect(pickup).not.toBeNull();
  });

  test('and written and read back in every chart', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        expect(chartOf(formatChart(chart)).pickup).toEqual(chart.pickup);
      }),
    );
  });
});

describe('a pickup that is none', () => {
  test.each([
    // As long as a bar, longer, nothing, less than nothing.
    ['4', '4/4', '3'],
    ['9 Bb7', '4/4', '3 Bb7'],
    ['8/8', '4/4', '3'],
    ['3', '3/4', '2'],
    ['2', '6/8', '1'],
    ['0', '4/4', '1'],
    ['-1', '4/4', '1'],
    // No whole number of eighths.
    ['1.25', '4/4', '3/8'],
    ['1.5', '6/8', '5/8'],
    // What people type.
    ['one', '4/4', '1'],
    ['2 beats', '4/4', '2'],
    ['3 eighths', '4/4', '3/8'],
    ['1,5', '4/4', '3/8'],
    ['Bb7', '4/4', '1 Bb7'],
    ['| Fm7 Bb7 |', '4/4', '2 Fm7 Bb7'],
    ['2 | Fm7 Bb7 |', '4/4', '2 Fm7 Bb7'],
  ])('“%s” in %s is told at its place, with “%s” as the remedy that mends it', (...row) => {
    const [written, meter, remedy] = row;
    const source = text(written, '| Fm7 |', meter);
    const parsed = parseChart(source);
    const problems = parsed.ok ? [] : parsed.problems;
    expect(problems).toMatchObject([
      { code: 'unknownPickup', line: 4, column: 9, read: written, suggestion: remedy },
    ]);
    const [problem] = problems;
    const edit = problem === undefined ? null : problem.fix;
    expect(applyEdits(source, edit === null ? [] : [edit])).toBe(text(remedy, '| Fm7 |', meter));
  });

  test('with chords that do not fit or are not known is told at the chord', () => {
    expect(problemsOf(text('1 Fm7 Bb7 Eb'))).toEqual(['beatsDoNotFit 4:11']);
    // Half a beat each: the first would be over before the pickup begins.
    expect(problemsOf(text('1/8 Fm7 Bb7'))).toEqual(['beatsDoNotFit 4:13']);
    expect(problemsOf(text('3 Fm7 / Bb7 /'))).toEqual(['beatsDoNotFit 4:11']);
    expect(problemsOf(text('2 Fm7 Hb7'))).toEqual(['unknownChord 4:15']);
    expect(problemsOf(text('1 Bb7 <dorain>'))).toEqual(['unknownPalette 4:16']);
    expect(problemsOf(text('1 %'))).toEqual(['unknownPickup 4:9']);
    expect(problemsOf(text('1\npickup: 2'))).toEqual(['duplicateHeader 5:1']);
    expect(problemsOf(text(''))).toEqual(['emptyHeader 4:8']);
  });
});

describe('the form that is played', () => {
  test('has its bars from 1 as without the pickup, which leads into the first chord', () => {
    const form = formOf(chartOf(text('3/8 Fm7 Bb7', '|: Ebmaj7 | Ab7 :|')));
    expect(form.pickup).toMatchObject({ beats: 1.5, meter: { count: 2, unit: 4 } });
    expect(form.pickup?.chords.map(({ symbol }) => symbol?.text)).toEqual(['Fm7', 'Bb7']);
    expect(form.pickup?.chords.every(({ chosen }) => chosen !== null)).toBe(true);
    const bare = formOf(chartOf(text('1', '|: Ebmaj7 | Ab7 :|')));
    expect(form.bars).toEqual(bare.bars);
    expect(form.bars.map(({ bar }) => bar)).toEqual([1, 2, 3, 4]);
  });

  test('keeps it before its own first bars alone', () => {
    const form = formOf(chartOf(text('1')));
    expect(sliceForm(form, 1, 1).pickup).toEqual(form.pickup);
    expect(sliceForm(form, 2, 2).pickup).toBeNull();
  });

  test('takes it along into another key, with its palettes', () => {
    const moved = transposeToKey(chartOf(text('2 Fm7 Bb7 <altered>')), { tonic: 0, mode: 'major' });
    const chart = moved.ok ? moved.value : null;
    expect(chart?.pickup?.chords.map(({ symbol }) => symbol?.text)).toEqual(['Dm7', 'G7']);
    expect(chart?.pickup?.chords[1]?.given?.palette.root).toBe('G');
  });
});

describe('the line is changed', () => {
  const TYPED = 'title: a # working\nmeter: 4/4\nkey: C\n\n| C | # first\n';
  const set = (source: string, value: string): string =>
    applyEdits(source, [pickupEdit(source, value)]);

  test('put in under the meter, given another value, and taken out again', () => {
    const one = set(TYPED, '1 G7');
    expect(one).toBe('title: a # working\nmeter: 4/4\npickup: 1 G7\nkey: C\n\n| C | # first\n');
    expect(pickupText(readTree(one))?.text).toBe('1 G7');
    expect(set(one, '3/8')).toBe(one.replace('1 G7', '3/8'));
    expect(set(one, '')).toBe(TYPED);
    expect(set(TYPED, '')).toBe(TYPED);
  });

  test('by what makes a text that of another chart, comments kept', () => {
    const chart = { ...chartOf(TYPED), pickup: { eighths: 3, chords: [] } };
    const edited = applyEdits(TYPED, editsTowards(TYPED, chart));
    expect(edited).toBe(set(TYPED, '3/8'));
    expect(applyEdits(edited, editsTowards(edited, { ...chart, pickup: null }))).toBe(TYPED);
  });
});
