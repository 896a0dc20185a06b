/** Rules at work: where one applies, what it would write there, and the chart with it written. */

import { type Chart, formatContent, type WrittenChord } from '../chart/index.ts';
import { PLAIN } from '../words.ts';
import { APPROACH_RULES } from './approaches.rules.ts';
import { COLOUR_RULES } from './colours.rules.ts';
import type { PlanRule, Replacement } from './plan-rule.ts';
import { type Spot, spotsOf } from './rule-spots.ts';
import { type ChordPlace, isSamePlace } from './set-palette.ts';
import { SUBSTITUTE_RULES } from './substitutes.rules.ts';
import { chordsOf, planChords, planContents, withContents, writtenBars } from './written.ts';

/** Every rule, the substitutes first, then the chords that lead on, then the palettes. */
export const PLAN_RULES: readonly PlanRule[] = [
  ...SUBSTITUTE_RULES,
  ...APPROACH_RULES,
  ...COLOUR_RULES,
];

/** A place where a rule applies, with what stands in the bar before and after; places count from 0. */
export interface RulePlace extends ChordPlace {
  readonly before: string;
  readonly after: string;
}

/** Where a rule applies in a plan, in order; each place is told as if it alone were changed. */
export function findRulePlaces(chart: Chart, plan: string, rule: PlanRule): readonly RulePlace[] {
  const chords = planChords(chart, plan);
  const bars = writtenBars(chart);
  return applying(chart, plan, rule).flatMap(({ spot, replacement }) => {
    const { bar, chord } = spot;
    const meter = bars[bar]?.meter;
    const own = chords[bar];
    if (meter === undefined || own === undefined) return [];
    const after = placed(own, new Map([[chord, replacement]]));
    return [
      {
        bar,
        chord,
        before: formatContent({ content: chordsOf(own), meter }),
        after: formatContent({ content: chordsOf(after), meter }),
      },
    ];
  });
}

/**
 * The chart with a rule applied in a plan, at every place the rule finds there, or at those of the list it finds; the
 * rest of the chart is as it was. A plan of that name is built upon, and one the chart does not have is made from
 * `plain` and added. At no place nothing is changed, nor is an empty plan added. `plain` itself is the chart and is not
 * changed: its places are those of a new plan.
 */
export function applyRule(
  chart: Chart,
  plan: string,
  rule: PlanRule,
  places: readonly ChordPlace[] | null,
): Chart {
  if (plan === PLAIN) return chart;
  const chosen = applying(chart, plan, rule).filter(
    ({ spot }) => places === null || places.some((place) => isSamePlace(place, spot)),
  );
  const chords = planChords(chart, plan);
  const contents = planContents(chart, plan).map((content, bar) => {
    const own = chosen.filter(({ spot }) => spot.bar === bar);
    if (own.length === 0) return content;
    const byChord = new Map(own.map(({ spot, replacement }) => [spot.chord, replacement]));
    return chordsOf(placed(chords[bar] ?? [], byChord));
  });
  return withContents(chart, plan, contents);
}

function applying(
  chart: Chart,
  plan: string,
  rule: PlanRule,
): readonly { readonly spot: Spot; readonly replacement: Replacement }[] {
  return spotsOf(chart, plan).flatMap((spot) => {
    const replacement = rule.replace(spot);
    return replacement === null ? [] : [{ spot, replacement }];
  });
}

/** A bar's chords with some of them replaced, each on its beat. */
function placed(
  chords: readonly WrittenChord[],
  replacements: ReadonlyMap<number, Replacement>,
): readonly WrittenChord[] {
  let beat = 1;
  return chords
    .flatMap((chord, index) => replacements.get(index) ?? [chord])
    .map((chord) => {
      const at = beat;
      beat += chord.beats;
      return { beat: at, beats: chord.beats, symbol: chord.symbol, given: chord.given };
    });
}
