/** Rules at work: where one applies, what it would write there, and the chart with it written. */

import { type Chart, formatContent, type WrittenChord } from '../chart/index.ts';
import { PLAIN } from '../words.ts';
import { APPROACH_RULES } from './approaches.rules.ts';
import { COLOUR_RULES } from './colours.rules.ts';
import type { PlanRule, Replacement } from './plan-rule.ts';
import { placeName, type Spot, spotsOf } from './rule-spots.ts';
import { type ChordPlace, isSamePlace } from './set-palette.ts';
import { SUBSTITUTE_RULES } from './substitutes.rules.ts';
import type { WhyLeft } from './why-left.ts';
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

/** A chord of the kind a rule is about that it leaves alone, and why; places count from 0. */
export interface LeftPlace extends ChordPlace {
  /** The chord as written. */
  readonly symbol: string;
  readonly why: WhyLeft;
}

/** What a rule finds in a plan: where it applies and what it leaves alone, each in order. */
export interface RuleSurvey {
  readonly places: readonly RulePlace[];
  readonly left: readonly LeftPlace[];
}

/** Looks for a rule's places in a plan; each place is told as if it alone were changed. */
export function surveyRule(chart: Chart, plan: string, rule: PlanRule): RuleSurvey {
  const { applying, left } = answers(chart, plan, rule);
  return { places: rulePlaces(chart, plan, applying), left };
}

/** Where a rule applies in a plan, in order. */
export function findRulePlaces(chart: Chart, plan: string, rule: PlanRule): readonly RulePlace[] {
  return surveyRule(chart, plan, rule).places;
}

function rulePlaces(
  chart: Chart,
  plan: string,
  applying: readonly Applying[],
): readonly RulePlace[] {
  const chords = planChords(chart, plan);
  const bars = writtenBars(chart);
  return applying.flatMap(({ spot, replacement }) => {
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
  const chosen = answers(chart, plan, rule).applying.filter(
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

interface Applying {
  readonly spot: Spot;
  readonly replacement: Replacement;
}

interface Answers {
  readonly applying: readonly Applying[];
  readonly left: readonly LeftPlace[];
}

function answers(chart: Chart, plan: string, rule: PlanRule): Answers {
  const applying: Applying[] = [];
  const left: LeftPlace[] = [];
  /** Chords that give way, and those that have to stay since one before them leads there. */
  const givingWay = new Set<string>();
  const staying = new Set<string>();
  // From the end, so that of two in a row the one that leads to a resting chord gives way.
  for (const spot of [...spotsOf(chart, plan)].reverse()) {
    const answer = rule.replace(spot);
    if (answer === null) continue;
    const place = placeName(spot);
    const clashes = staying.has(place) || spot.nextAt.some((next) => givingWay.has(next));
    const why = typeof answer === 'string' ? answer : clashes ? 'nextGivesWay' : null;
    if (why !== null)
      left.push({ bar: spot.bar, chord: spot.chord, symbol: spot.symbol.text, why });
    else if (typeof answer !== 'string') {
      applying.push({ spot, replacement: answer });
      if (rule.needsNext !== true) continue;
      givingWay.add(place);
      for (const next of spot.nextAt) staying.add(next);
    }
  }
  return { applying: applying.reverse(), left: left.reverse() };
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
