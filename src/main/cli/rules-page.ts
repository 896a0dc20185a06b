/** What each rule that makes plans finds in one plan of a chart, for the terminal and as data. */

import type { Chart } from '../../core/chart/index.ts';
import { describeLeft, PLAN_RULES, surveyRule } from '../../core/plan/index.ts';
import type { Paint } from './paint.ts';

/** A line for each rule, then its places and what it leaves alone; bars as written, from 1. A line end after the last. */
export function rulesPage(chart: Chart, plan: string, colours: Paint): string {
  const parts = PLAN_RULES.map((rule) => {
    const { places, left } = surveyRule(chart, plan, rule);
    const counts = `${places.length} ${places.length === 1 ? 'place' : 'places'}, ${left.length} left`;
    return [
      `  ${colours.bold(rule.name)}: ${counts}`,
      ...places.map(({ bar, before, after }) => `    bar ${bar + 1}: ${before} → ${after}`),
      ...left.map(({ bar, symbol, why }) =>
        colours.dim(`    bar ${bar + 1}, ${symbol}: ${describeLeft(why)}`),
      ),
    ].join('\n');
  });
  return `${[colours.bold('rules'), ...parts].join('\n')}\n`;
}

/** The same as data; bars and chords from 1. */
export function rulesJson(chart: Chart, plan: string) {
  return PLAN_RULES.map((rule) => {
    const { places, left } = surveyRule(chart, plan, rule);
    return {
      rule: rule.id,
      places: places.map((place) => ({ ...place, bar: place.bar + 1, chord: place.chord + 1 })),
      left: left.map((place) => ({ ...place, bar: place.bar + 1, chord: place.chord + 1 })),
    };
  });
}
