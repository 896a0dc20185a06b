/** What a plan makes of the chart, bar by bar. Bars counted by hand. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type Chart, type FormChord, formatContent } from '../../../src/core/chart/index.ts';
import { comparePlan, PLAN_RULES, type PlanDifference } from '../../../src/core/plan/index.ts';
import { tonePc } from '../../../src/core/theory/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { runs } from '../../helpers/runs.ts';
import { barsOf, chartOf, formOf } from '../chart/reading.ts';
import { applied, PLAN, STARTER_CHARTS } from './planning.ts';

function differences(chart: Chart, plan = PLAN): readonly PlanDifference[] {
  const compared = comparePlan(chart, plan);
  if (!compared.ok) throw new Error(`no plan ${plan}`);
  return compared.value;
}

function words(chords: readonly FormChord[]): string {
  return chords
    .map(({ symbol, chosen }) => `${symbol?.text ?? 'N.C.'} ${chosen?.palette.name ?? ''}`.trim())
    .join(', ');
}

/** A chart in C with a plan over it. */
function planned(bars: string, plan: string): Chart {
  return chartOf(`title: a\nkey: C\nmeter: 4/4\n${bars}\n\nplan: ${PLAN}\n${plan}\n`);
}

function told(chart: Chart) {
  return differences(chart).map(({ bar, formBars, kind, isWritten, before, after }) => [
    bar,
    formBars.join(' '),
    `${kind}${isWritten ? '' : ', not written'}`,
    words(before),
    words(after),
  ]);
}

describe('a plan beside the chart', () => {
  test('differs in a bar with other chords, and is told as it is played', () => {
    const chart = planned('| Dm7 G7 | Cmaj7 |', '| Dm7 Db7 <lydian dominant> | % |');
    expect(told(chart)).toEqual([
      [0, '1', 'chords', 'Dm7 dorian, G7 mixolydian', 'Dm7 dorian, Db7 lydian dominant'],
    ]);
  });

  test('differs in a bar with the same chords on other beats', () => {
    const chart = planned('| Dm7 G7 | Cmaj7 |', '| Dm7 / / G7 | % |');
    expect(differences(chart).map(({ bar, kind }) => [bar, kind])).toEqual([[0, 'chords']]);
  });

  test('differs where just the bass does', () => {
    const chart = planned('| Dm7 | G7 |', '| Dm7/C | % |');
    expect(differences(chart).map(({ bar, kind }) => [bar, kind])).toEqual([[0, 'chords']]);
  });

  test.each([
    // Down alone, and up alone: the classical melodic minor rises as the one and falls as the other.
    ['melodic minor', 'melodic minor up and down', 'palettes'],
    ['aeolian', 'melodic minor up and down', 'palettes'],
    // The same seven notes.
    ['dorian', 'D mixolydian', 'names'],
  ])('from %s to %s differs in %s', (before, after, kind) => {
    const chart = planned(`| Am <${before}> | E7 |`, `| Am <${after}> | % |`);
    expect(differences(chart).map((one) => [one.bar, one.kind])).toEqual([[0, kind]]);
  });

  test('counts just the playings in which it is heard', () => {
    // A7 leads to Dm7 both times, in the plan to a D7 the second time.
    const chart = planned('|: A7 |1 Dm7 :|2 Dm7 |', '| % | % | D7 |');
    expect(differences(chart).map(({ bar, formBars }) => [bar, formBars])).toEqual([
      [0, [3]],
      [2, [4]],
    ]);
  });

  test('differs in palettes alone, and counts every playing of a repeated bar', () => {
    const chart = planned('|: Cmaj7 | Fmaj7 :| G7 |', '| Cmaj7 <lydian> | % | % |');
    expect(told(chart)).toEqual([[0, '1 3', 'palettes', 'Cmaj7 ionian', 'Cmaj7 lydian']]);
  });

  test('differs in name alone where it names what the program would choose', () => {
    const chart = planned('| Dm7 | G7 |', '| D-7 | G7 <mixolydian> |');
    expect(differences(chart).map(({ bar, kind, formBars }) => [bar, kind, formBars])).toEqual([
      [0, 'names', [1]],
      [1, 'names', [2]],
    ]);
  });

  test('differs where a palette follows a chord that the plan changed', () => {
    // A7 leads to minor, and is phrygian dominant or the like, until the minor chord is taken away.
    const chart = planned('| A7 | Dm7 | G7 | Cmaj7 |', '| % | D7 | % | % |');
    const [first, second] = differences(chart);
    expect([first?.bar, first?.kind, first?.isWritten]).toEqual([0, 'palettes', false]);
    expect([second?.bar, second?.kind, second?.isWritten]).toEqual([1, 'chords', true]);
  });

  test('that is not there is a problem', () => {
    const compared = comparePlan(planned('| C |', '| % |'), 'nowhere');
    expect(compared.ok ? [] : compared.problems.map(({ code }) => code)).toEqual(['unknownPlan']);
  });
});

/** Each bar of a form as nothing but pitches and beats. */
function soundOf(chart: Chart, plan: string): readonly string[] {
  return formOf(chart, plan).bars.map(({ chords }) =>
    JSON.stringify(
      chords.map(({ beats, symbol, chosen }) => [
        beats,
        symbol && [tonePc(symbol.root), symbol.bass && tonePc(symbol.bass), symbol.altered],
        symbol?.tones.map(({ interval }) => interval),
        chosen?.palette.pcs.toSorted(),
        (chosen?.palette.falling ?? chosen?.palette)?.pcs.toSorted(),
      ]),
    ),
  );
}

describe('on every chart', () => {
  const anyChart = fc.oneof(arbitraryChart(), fc.constantFrom(...STARTER_CHARTS));

  test('`plain` and a plan that keeps every bar differ nowhere', () => {
    fc.assert(
      fc.property(anyChart, (chart) => {
        const bars = barsOf(chart).map(() => ({ kind: 'same' as const }));
        const kept = { ...chart, plans: [...chart.plans, { name: PLAN, bars }] };
        expect(differences(kept)).toEqual([]);
        expect(differences(chart, 'plain')).toEqual([]);
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  test('what is written differs just in the bars the plan writes otherwise', () => {
    fc.assert(
      fc.property(anyChart, fc.constantFrom(...PLAN_RULES), (chart, rule) => {
        const made = applied(chart, rule);
        const bars = made.plans.find(({ name }) => name === PLAN)?.bars;
        if (bars === undefined) return;
        const written = bars.flatMap(({ kind }, bar) => (kind === 'same' ? [] : [bar]));
        const found = differences(made).filter(({ isWritten }) => isWritten);
        expect(found.map(({ bar }) => bar)).toEqual(written);
        // A rule is heard: it never only names.
        expect(found.map(({ kind }) => kind)).not.toContain('names');
      }),
      { numRuns: runs(200, 50), seed: 20_261_129 },
    );
  });

  test('every bar of the form whose pitches differ is counted once, and no other but for names', () => {
    fc.assert(
      fc.property(anyChart, fc.nat(), (chart, pick) => {
        const plan = chart.plans[pick % chart.plans.length]?.name ?? 'plain';
        const [one, other] = [soundOf(chart, 'plain'), soundOf(chart, plan)];
        const differing = one.flatMap((text, index) => (text === other[index] ? [] : [index + 1]));
        const counted = differences(chart, plan)
          .filter(({ kind }) => kind !== 'names')
          .flatMap(({ formBars }) => formBars);
        expect(counted.toSorted((a, b) => a - b)).toEqual(differing);
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  test('before and after are what the two forms say there', () => {
    fc.assert(
      fc.property(anyChart, fc.nat(), (chart, pick) => {
        const plan = chart.plans[pick % chart.plans.length]?.name ?? 'plain';
        for (const { formBars, before, after } of differences(chart, plan)) {
          const at = (formBars[0] ?? 0) - 1;
          expect(before).toEqual(formOf(chart).bars[at]?.chords);
          expect(after).toEqual(formOf(chart, plan).bars[at]?.chords);
        }
      }),
      { numRuns: runs(40, 20), seed: 20_261_129 },
    );
  });
});

test('a bar is told with its text in the chart that has it', () => {
  const chart = STARTER_CHARTS.find(({ title }) => title === 'Two Ways Out');
  if (chart === undefined) throw new Error('the chart is gone');
  const texts = barsOf(chart).map((bar) => formatContent(bar));
  const bars = differences(chart, 'back stairs').map(({ bar, formBars }) => [texts[bar], formBars]);
  // Five bars and the first ending, the same five again, the second ending: counted in the file.
  expect(bars).toContainEqual(['Cmaj7', [1, 7]]);
  expect(bars).toContainEqual(['Dm7 G7', [6]]);
  expect(bars).toContainEqual(['Bm7b5 E7b9', [12]]);
});
