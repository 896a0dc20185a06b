/** What holds for every rule on every chart: random ones, and those that come with the program. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  beatsPerBar,
  type Chart,
  type Form,
  formatChart,
  parseChart,
  transposeChart,
  unrollForm,
  type WrittenChord,
} from '../../../src/core/chart/index.ts';
import { findRulePlaces, PLAN_RULES } from '../../../src/core/plan/index.ts';
import { chordPcs, keyFifths, paletteMask, tonePc } from '../../../src/core/theory/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { runs } from '../../helpers/runs.ts';
import { barsOf, formOf } from '../chart/reading.ts';
import { applied, barsOfPlan, PLAN, STARTER_CHARTS } from './planning.ts';

const anyRule = fc.constantFrom(...PLAN_RULES);
const anyChart = fc.oneof(arbitraryChart(), fc.constantFrom(...STARTER_CHARTS));

/** The form of the tests' plan, or of `plain` where the rule found no place and made none. */
function planForm(chart: Chart): Form {
  const form = unrollForm(chart, PLAN);
  return form.ok ? form.value : formOf(chart);
}

/** A chart and one of its plans, or a new one. */
const anyPlan = anyChart.chain((chart) =>
  fc.record({
    chart: fc.constant(chart),
    plan: fc.constantFrom(PLAN, ...chart.plans.map(({ name }) => name)),
  }),
);

describe('every rule, on every chart', () => {
  test('keeps the chart itself and its other plans, and the bars and beats of this one', () => {
    fc.assert(
      fc.property(anyPlan, anyRule, ({ chart, plan }, rule) => {
        const after = applied(chart, rule, null, plan);
        const others = (one: Chart) => one.plans.filter(({ name }) => name !== plan);
        expect({ ...after, plans: others(after) }).toEqual({ ...chart, plans: others(chart) });
        const bars = after.plans.find(({ name }) => name === plan)?.bars;
        if (bars === undefined) return;
        expect(bars.length).toBe(barsOf(chart).length);
        for (const [bar, { meter }] of barsOf(chart).entries()) {
          const content = bars[bar];
          if (content?.kind !== 'chords') continue;
          let beat = 1;
          for (const chord of content.chords) {
            expect(chord.beat).toBe(beat);
            expect(chord.beats).toBeGreaterThanOrEqual(0.5);
            expect(Number.isInteger(2 * chord.beats)).toBe(true);
            beat += chord.beats;
          }
          expect(beat - 1).toBe(beatsPerBar(meter));
        }
      }),
      { numRuns: runs(200, 50), seed: 20_261_129 },
    );
  });

  test('writes what reads back', () => {
    fc.assert(
      fc.property(anyPlan, anyRule, ({ chart, plan }, rule) => {
        const after = applied(chart, rule, null, plan);
        expect(parseChart(formatChart(after))).toEqual({ ok: true, value: after });
      }),
      { numRuns: runs(200, 50), seed: 20_261_129 },
    );
  });

  test('at no place gives back the very chart, and so does one with no place to go', () => {
    fc.assert(
      fc.property(anyPlan, anyRule, ({ chart, plan }, rule) => {
        expect(applied(chart, rule, [], plan)).toBe(chart);
        const hasPlace = findRulePlaces(chart, plan, rule).length > 0;
        expect(applied(chart, rule, null, plan) === chart).toBe(!hasPlace);
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  test('leaves `plain` as it is', () => {
    fc.assert(
      fc.property(anyChart, anyRule, (chart, rule) => {
        expect(applied(chart, rule, null, 'plain')).toBe(chart);
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  test('changes just the bars of its places, each as it was told', () => {
    fc.assert(
      fc.property(anyChart, anyRule, fc.nat(), (chart, rule, pick) => {
        const places = findRulePlaces(chart, PLAN, rule);
        const everywhere = barsOfPlan(applied(chart, rule));
        const changed = everywhere.flatMap((text, bar) => (text === '%' ? [] : [bar]));
        expect(changed).toEqual([...new Set(places.map(({ bar }) => bar))]);
        const place = places[pick % places.length];
        if (place === undefined) return;
        const here = barsOfPlan(applied(chart, rule, [place]));
        expect(here).toEqual(
          barsOf(chart).map((_, bar) => (bar === place.bar ? place.after : '%')),
        );
        expect(place.before).not.toBe(place.after);
      }),
      { numRuns: runs(200, 50), seed: 20_261_129 },
    );
  });

  test('keeps every palette the chart names, with its chord', () => {
    const named = (chords: readonly Pick<WrittenChord, 'symbol' | 'given'>[]) =>
      chords.flatMap(({ symbol, given }) =>
        given === null || symbol === null ? [] : [`${symbol.text} <${given.text}>`],
      );
    fc.assert(
      fc.property(anyChart, anyRule, (chart, rule) => {
        const bars = applied(chart, rule).plans.find(({ name }) => name === PLAN)?.bars ?? [];
        barsOf(chart).forEach(({ content }, bar) => {
          const after = bars[bar];
          if (content.kind === 'same' || after === undefined || after.kind === 'same') return;
          const kept = named(after.chords);
          for (const name of named(content.chords)) {
            const at = kept.indexOf(name);
            expect(at).toBeGreaterThanOrEqual(0);
            kept.splice(0, at + 1);
          }
        });
      }),
      { numRuns: runs(200, 50), seed: 20_261_129 },
    );
  });

  test('sounds the same in every key: moved and applied is applied and moved', () => {
    // One name for each pitch, so that moving never makes one chord of two names or two of one.
    const roots = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'Ab', 'A', 'Bb', 'B'];
    const sound = (chart: Chart) =>
      planForm(chart).bars.map(({ chords }) =>
        chords.map(({ beats, symbol, chosen }) => [
          beats,
          symbol === null ? null : [tonePc(symbol.root), symbol.bass && tonePc(symbol.bass)],
          symbol === null ? null : chordPcs(symbol),
          chosen === null ? null : [paletteMask(chosen.palette), chosen.given],
        ]),
      );
    fc.assert(
      fc.property(
        arbitraryChart({ roots, maxFifths: 6 }),
        anyRule,
        fc.integer({ min: -6, max: 6 }),
        (chart, rule, by) => {
          const movedFirst = applied(transposeChart(chart, by), rule);
          const appliedFirst = transposeChart(applied(chart, rule), by);
          expect(sound(movedFirst)).toEqual(sound(appliedFirst));
        },
      ),
      { numRuns: runs(300, 60), seed: 20_261_129 },
    );
  });

  test('writes no sharp in a flat key that has none, and never a double accidental', () => {
    const roots = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
    const flat = arbitraryChart({ roots }).filter(({ key }) => keyFifths(key) < 0);
    fc.assert(
      fc.property(flat, anyRule, (chart, rule) => {
        for (const { chords } of planForm(applied(chart, rule)).bars) {
          for (const { symbol } of chords) expect(symbol?.text ?? '').not.toMatch(/^[A-G](#|bb)/u);
        }
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });
});

describe('the table of rules', () => {
  test('has for each a name and a sentence of its own and a source', () => {
    const all = (field: 'id' | 'name' | 'says') => new Set(PLAN_RULES.map((rule) => rule[field]));
    for (const field of ['id', 'name', 'says'] as const) {
      expect(all(field).size).toBe(PLAN_RULES.length);
    }
    for (const { id, says, source } of PLAN_RULES) {
      expect(id).toMatch(/^[a-z]+(-[a-z]+)*$/u);
      expect(says).toMatch(/^[A-Z].*\.$/u);
      expect(source).not.toBe('');
    }
  });

  test.each(PLAN_RULES)('$id finds work in the charts that come with the program', (rule) => {
    const places = STARTER_CHARTS.flatMap((chart) => findRulePlaces(chart, PLAN, rule));
    expect(places).not.toEqual([]);
  });
});
