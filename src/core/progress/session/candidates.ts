/** What could be played today, by kind, best first. Every choice of order is an own rule. */

import type { Practice } from '../history.ts';
import { type LadderChart, ladderOf } from '../ladder/index.ts';
import type { Moment } from '../moment.ts';
import { nameOfPractice, practiceId } from '../practice-name.ts';
import { easedTempoBpm, type Obstacle, RAISE_CLEAN_RATE } from '../readiness.ts';
import { type Standing, standingOf } from '../standing/index.ts';
import {
  drillOf,
  drillState,
  isSurelyWeak,
  lastBarOf,
  type RangeTake,
  rankPlaces,
} from '../weak-places/index.ts';
import { type Candidate, candidate, type ItemKind, type Play } from './model.ts';
import { startTempoBpm } from './start-tempo.ts';

export interface SessionChart extends LadderChart {
  readonly chartTitle: string;
}

export interface Material extends Moment {
  readonly practices: readonly Practice[];
  /** Charts that may be played, those to be begun first before others; practices of other charts are passed over. */
  readonly charts: readonly SessionChart[];
  /** Takes of some bars alone, which tell how far drills have come: those of the last `WINDOW_DAYS`, or more. */
  readonly drillTakes: readonly RangeTake[];
}

export type Candidates = Readonly<Record<ItemKind, readonly Candidate[]>>;

export function candidatesOf(material: Material): Candidates {
  const { charts } = material;
  const chartIds = new Set(charts.map(({ chartId }) => chartId));
  const practices = material.practices.filter(({ chartId }) => chartIds.has(chartId));
  const judged = judgedAll(practices, material);
  return {
    due: dueThings(judged),
    nearRaise: nearRaises(judged),
    weakPlace: placesToDrill(practices, material),
    newThing: newThings(material),
  };
}

function playOf(practice: Practice, tempoBpm: number): Play {
  const { chartTitle } = practice;
  return { ...nameOfPractice(practice), chartTitle, tempoBpm, bars: null };
}

interface Judged {
  readonly practice: Practice;
  readonly standing: Standing;
}

function judgedAll(practices: readonly Practice[], { charts, today }: Material): readonly Judged[] {
  const goals = new Map(charts.map(({ chartId, goalBpm }) => [chartId, goalBpm]));
  return practices.map((practice) => {
    const goalBpm = goals.get(practice.chartId) ?? null;
    return { practice, standing: standingOf(practice, goalBpm, today) };
  });
}

/**
 * Practices that are due, the one likeliest lost first, those with too little played to tell last; each at the tempo that holds or
 * just under the one that has held.
 */
function dueThings(judged: readonly Judged[]): readonly Candidate[] {
  const chanceLeft = ({ standing }: Judged): number => standing.due.retrievability ?? 1;
  return judged
    .filter(({ standing }) => standing.due.inDays <= 0)
    .sort((one, other) => chanceLeft(one) - chanceLeft(other))
    .map(({ practice, standing }) => {
      const { daysSince, due } = standing;
      const { reason, retrievability } = due;
      const why = { kind: 'due', daysSince, reason, retrievability } as const;
      return candidate(playOf(practice, safeTempoBpm(standing)), why);
    });
}

function safeTempoBpm({ holdsBpm, heldBpm, advice }: Standing): number {
  if (holdsBpm !== null) return holdsBpm;
  return heldBpm === null ? advice.verdict.nextTempoBpm : easedTempoBpm(heldBpm);
}

/** Practices whose tempo may be raised towards the goal, or lacks only more of the same; those that may first, then the surest. */
function nearRaises(judged: readonly Judged[]): readonly Candidate[] {
  return judged
    .filter((one) => !(isReady(one) && isAtGoal(one)) && isNear(one))
    .sort(
      (one, other) => Number(isReady(other)) - Number(isReady(one)) || surely(other) - surely(one),
    )
    .map(({ practice, standing: { advice } }) => {
      const { tempoBpm: presentBpm, verdict } = advice;
      const { obstacles, nextTempoBpm } = verdict;
      return candidate(playOf(practice, nextTempoBpm), {
        kind: 'nearRaise',
        presentBpm,
        obstacles,
      });
    });
}

function isReady({ standing: { advice } }: Judged): boolean {
  return advice.verdict.verdict === 'raise';
}

function isAtGoal({ standing: { advice, goalBpm } }: Judged): boolean {
  return goalBpm !== null && advice.tempoBpm >= goalBpm;
}

function surely({ standing: { advice } }: Judged): number {
  return advice.verdict.interval.lower;
}

/** Nothing stands in the way of a raise but too little played: the rate itself is high enough. */
function isNear({ standing: { advice } }: Judged): boolean {
  const { clean, slots, obstacles } = advice.verdict;
  const isMoreOfTheSame = ({ kind }: Obstacle): boolean => kind !== 'changes' && kind !== 'bars';
  return slots > 0 && clean >= RAISE_CLEAN_RATE * slots && obstacles.every(isMoreOfTheSame);
}

/** The surest weak place of each practice of the last 30 days, unless its drill has been done; the least clean first. */
function placesToDrill(
  practices: readonly Practice[],
  { drillTakes, nowMs }: Material,
): readonly Candidate[] {
  const drills = Map.groupBy(drillTakes, practiceId);
  return practices
    .flatMap((practice) => {
      const { takes, tempoBpm: contextBpm } = practice.present;
      const bars = takes.flatMap(({ evidence }) => evidence.bars);
      const own = drills.get(practiceId(practice)) ?? [];
      return rankPlaces(bars)
        .filter(isSurelyWeak)
        .flatMap((place) => {
          const lastBar = lastBarOf(practice.recent);
          const drill = drillOf(place, contextBpm, lastBar);
          const state = drillState(drill, own, nowMs);
          if (state.kind === 'backInContext') return [];
          const { from, to, slots, clean } = place;
          const play = { ...playOf(practice, state.tempoBpm), bars: drill.bars };
          const why = { kind: 'weakPlace', place: { from, to }, slots, clean, contextBpm } as const;
          return [{ upper: place.interval.upper, item: candidate(play, why) }];
        })
        .slice(0, 1);
    })
    .sort((one, other) => one.upper - other.upper)
    .map(({ item }) => item);
}

/** The next rung of each chart where all before it are done; charts once begun before others. */
function newThings({ practices, charts }: Material): readonly Candidate[] {
  const begun = Map.groupBy(practices, ({ chartId }) => chartId);
  const isBegun = ({ chartId }: SessionChart): boolean => begun.has(chartId);
  return charts
    .toSorted((one, other) => Number(isBegun(other)) - Number(isBegun(one)))
    .flatMap((chart) => {
      const ladder = ladderOf(chart, begun.get(chart.chartId) ?? []);
      const { next } = ladder;
      if (next === null || next.state !== 'notBegun') return [];
      const { chartId, chartTitle } = chart;
      const { plan, key, level } = next;
      const { tempoBpm, fromBpm } = startTempoBpm(ladder, next);
      const play = { chartId, chartTitle, plan, key, level, tempoBpm, bars: null };
      return [candidate(play, { kind: 'newThing', fromBpm })];
    });
}
