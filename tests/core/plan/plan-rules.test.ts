/**
 * The worked rules, case by case, and what holds for all of them. The cases are the textbook ones the rules' own
 * `source` names; chord spellings are common practice.
 */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type Chart,
  formatChart,
  formatContent,
  parseChart,
  planNames,
  transposeChart,
  unrollForm,
} from '../../../src/core/chart/index.ts';
import { applyRule, findRulePlaces, PLAN_RULES } from '../../../src/core/plan/index.ts';
import { tonePc } from '../../../src/core/theory/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { chartOf } from '../chart/reading.ts';

const PLAN = 'side door';

function ruleOf(id: string) {
  const rule = PLAN_RULES.find((one) => one.id === id);
  if (rule === undefined) throw new Error(`no rule ${id}`);
  return rule;
}

/** The bars of the plan a rule makes of bars, `%` where it leaves one alone. */
function made(id: string, key: string, bars: string, meter = '4/4'): string {
  const chart = chartOf(`title: a\nkey: ${key}\nmeter: ${meter}\n${bars}\n`);
  const applied = applyRule(chart, PLAN, ruleOf(id), null);
  return barsOfPlan(applied).join(' | ');
}

function barsOfPlan(chart: Chart): readonly string[] {
  const written = chart.sections.flatMap(({ bars }) => bars);
  const plan = chart.plans.find(({ name }) => name === PLAN);
  return (plan?.bars ?? []).map((content, index) => {
    const bar = written[index];
    return bar === undefined ? '' : formatContent({ ...bar, content });
  });
}

describe('each rule', () => {
  test.each([
    ['tritone-substitute', 'C', '| Dm7 | G7 | Cmaj7 | % |', '% | Db7 <lydian dominant> | % | %'],
    ['tritone-substitute', 'Bb', '| Cm7 F7 | Bb6 |', 'Cm7 B7 <lydian dominant> | %'],
    ['tritone-substitute', 'Gb', '| Abm7 Db7 | Gb6 |', 'Abm7 G7 <lydian dominant> | %'],
    ['minor-two', 'C', '| G7 | Cmaj7 |', 'Dm7 G7 | %'],
    ['minor-two', 'Am', '| E7 | Am6 |', 'Bm7b5 E7 | %'],
    ['minor-two', 'C', '| Dm7 | G7 | C6 | % |', '% | % | % | %'],
    [
      'chromatic-approach',
      'C',
      '| C6 | Am7 | Dm7 | G7 |',
      'C6 / / Bb7 <lydian dominant> | Am7 / / Eb7 <lydian dominant> | Dm7 / / Ab7 <lydian dominant> | %',
    ],
    ['back-door', 'C', '| Dm7 | G7 | Cmaj7 | % |', '% | Bb7 <lydian dominant> | % | %'],
    ['back-door', 'Am', '| Bm7b5 | E7 | Am6 | % |', '% | % | % | %'],
    ['two-five', 'F', '| F6 | Dm7 | Gm7 | C7 |', 'F6 Em7b5 A7b9 | Dm7 Am7b5 D7b9 | Gm7 Dm7 G7 | %'],
    ['secondary-dominant', 'C', '| C6 | Am7 |', 'C6 E7b9 | Am7 G7'],
    [
      'lydian-for-major',
      'F',
      '| Fmaj7 | Gm7 | Bb6 | C7 |',
      'Fmaj7 <lydian> | % | Bb6 <lydian> | %',
    ],
    [
      'melodic-minor-for-tonic',
      'Cm',
      '| Cm6 | Fm7 | G7 | Cm7 |',
      'Cm6 <melodic minor> | % | % | %',
    ],
    ['altered-into-minor', 'Cm', '| Dm7b5 | G7 | Cm6 | C7 |', '% | G7 <altered> | % | %'],
    ['altered-into-minor', 'Cm', '| Dm7b5 | G13 | Cm6 | % |', '% | % | % | %'],
    [
      'diminished-for-flat-nine',
      'C',
      '| G7b9 | C6 | A7 | % |',
      'G7b9 <half-whole diminished> | % | % | %',
    ],
  ])('%s in %s makes of %s: %s', (id, key, bars, expected) => {
    expect(made(id, key, bars)).toBe(expected);
  });

  test('leaves alone what has no room for it', () => {
    expect(made('two-five', 'F', '| F6 Dm7 | Gm7 C7 |')).toBe('% | %');
    expect(made('minor-two', 'C', '| Am7 Dm7 G7 | C6 |', '3/4')).toBe('% | %');
  });

  test('looks through the repeats: where the endings go on differently, nothing leads to either', () => {
    const twoWays = '|: C6 | A7 |1 Dm7 | G7 :|2 Fm7 | Bb7 |';
    expect(made('tritone-substitute', 'C', twoWays)).toBe(
      '% | % | % | Db7 <lydian dominant> | % | %',
    );
  });

  test('is undone bar by bar: at one place it changes that place', () => {
    const chart = chartOf('title: a\nkey: C\nmeter: 4/4\n| Dm7 G7 | C6 A7 | Dm7 G7 | C6 |\n');
    const rule = ruleOf('tritone-substitute');
    const places = findRulePlaces(chart, PLAN, rule);
    expect(places.map(({ bar, before, after }) => [bar, before, after])).toEqual([
      [0, 'Dm7 G7', 'Dm7 Db7 <lydian dominant>'],
      [1, 'C6 A7', 'C6 Eb7 <lydian dominant>'],
      [2, 'Dm7 G7', 'Dm7 Db7 <lydian dominant>'],
    ]);
    expect(barsOfPlan(applyRule(chart, PLAN, rule, places.slice(1, 2)))).toEqual([
      '%',
      'C6 Eb7 <lydian dominant>',
      '%',
      '%',
    ]);
  });
});

describe('all rules, on every chart', () => {
  const cases = fc.tuple(arbitraryChart(), fc.constantFrom(...PLAN_RULES));

  test('keep the chart itself, the number of bars and the beats', () => {
    fc.assert(
      fc.property(cases, ([chart, rule]) => {
        const applied = applyRule(chart, PLAN, rule, null);
        expect({ ...applied, plans: [] }).toEqual({ ...chart, plans: [] });
        const plain = unrollForm(applied, 'plain');
        const plan = unrollForm(applied, PLAN);
        if (!plain.ok || !plan.ok) throw new Error('a plan is missing');
        const beats = (form: typeof plan.value) =>
          form.bars.map(({ chords }) => chords.reduce((sum, chord) => sum + chord.beats, 0));
        expect(beats(plan.value)).toEqual(beats(plain.value));
      }),
    );
  });

  test('write what reads back', () => {
    fc.assert(
      fc.property(cases, ([chart, rule]) => {
        const applied = applyRule(chart, PLAN, rule, null);
        expect(parseChart(formatChart(applied))).toEqual({ ok: true, value: applied });
      }),
    );
  });

  test('change just the bars of their places, and at no place nothing', () => {
    fc.assert(
      fc.property(cases, ([chart, rule]) => {
        const places = findRulePlaces(chart, 'a plan of its own', rule);
        const applied = applyRule(chart, 'a plan of its own', rule, places);
        const plan = applied.plans.find(({ name }) => name === 'a plan of its own');
        const changed = (plan?.bars ?? []).flatMap(({ kind }, bar) =>
          kind === 'same' ? [] : [bar],
        );
        expect(changed).toEqual([...new Set(places.map(({ bar }) => bar))]);
        const untouched = applyRule(chart, 'a plan of its own', rule, []);
        expect(untouched.plans.at(-1)?.bars.every(({ kind }) => kind === 'same')).toBe(true);
      }),
    );
  });

  test('sound the same in every key: moved and applied is applied and moved', () => {
    fc.assert(
      fc.property(cases, fc.integer({ min: -6, max: 6 }), ([chart, rule], by) => {
        const pcs = (one: Chart) => {
          const form = unrollForm(one, PLAN);
          if (!form.ok) throw new Error('a plan is missing');
          return form.value.bars.map(({ chords }) =>
            chords.map(({ symbol, beats }) => [
              beats,
              symbol === null ? null : tonePc(symbol.root),
              symbol?.family ?? null,
            ]),
          );
        };
        const movedFirst = applyRule(transposeChart(chart, by), PLAN, rule, null);
        const appliedFirst = transposeChart(applyRule(chart, PLAN, rule, null), by);
        expect(pcs(movedFirst)).toEqual(pcs(appliedFirst));
      }),
    );
  });

  test('have names and sentences of their own', () => {
    expect(new Set(PLAN_RULES.map(({ id }) => id)).size).toBe(PLAN_RULES.length);
    expect(new Set(PLAN_RULES.map(({ name }) => name)).size).toBe(PLAN_RULES.length);
    expect(planNames(chartOf('title: a\nkey: C\nmeter: 4/4\n| C |\n'))).toEqual(['plain']);
  });
});
