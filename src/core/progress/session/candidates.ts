/** What could be played today, by kind, best first. Every choice of order is an own rule. */

import { dayOf } from '../days.ts';
import type { Practice } from '../history.ts';
import { type LadderChart, ladderOf, onceHeldBpm } from '../ladder/index.ts';
import { nameOfPractice, practiceId } from '../practice-name.ts';
import { easedTempoBpm, type Obstacle, RAISE_CLEAN_RATE } from '../readiness.ts';
import { dueOf } from '../spacing/index.ts';
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

export interface Material {
  readonly practices: readonly Practice[];
  /** Charts that may be played, those to be begun first before others; practices of other charts are passed over. */
  readonly charts: readonly SessionChart[];
  /** Takes of some bars alone, which tell how far drills have come: those of the last `WINDOW_DAYS`, or more. */
  readonly drillTakes: readonly RangeTake[];
  /** Ms since 1970. */
  readonly nowMs: number;
  readonly utcOffsetMinutes: number;
}

export type Candidates = Readonly<Record<ItemKind, readonly Candidate[]>>;

export function candidatesOf(material: Material): Candidates {
  const { charts } = material;
  const chartIds = new Set(charts.map(({ chartId }) => chartId));
  const practices = material.practices.filter(({ chartId }) => chartIds.has(chartId));
  return {
    due: dueThings(practices, material),
    nearRaise: nearRaises(practices, charts),
    weakPlace: placesToDrill(practices, material),
    newThing: newThings(material),
  };
}

function playOf(practice: Practice, tempoBpm: number): Play {
  const { chartTitle } = practice;
  return { ...nameOfPractice(practice), chartTitle, tempoBpm, bars: null };
}

/**
 * Practices that are due, the one likeliest lost first, then those of an earlier day with too little played to tell; each at the
 * tempo that holds or just under the one that has held.
 */
function dueThings(
  practices: readonly Practice[],
  { nowMs, utcOffsetMinutes }: Material,
): readonly Candidate[] {
  return practices
    .map((practice) => ({
      practice,
      due: dueOf(practice.played, nowMs, utcOffsetMinutes),
      daysSince: daysSince(practice, nowMs, utcOffsetMinutes),
    }))
    .filter(({ due, daysSince: days }) => (due === null ? days > 0 : due.inDays <= 0))
    .sort((one, other) => (one.due?.retrievability ?? 1) - (other.due?.retrievability ?? 1))
    .map(({ practice, due, daysSince: days }) =>
      candidate(playOf(practice, safeTempoBpm(practice)), {
        kind: 'due',
        daysSince: days,
        retrievability: due?.retrievability ?? null,
      }),
    );
}

/** Days on the calendar since the last take. */
function daysSince({ last }: Practice, nowMs: number, utcOffsetMinutes: number): number {
  return dayOf(nowMs, utcOffsetMinutes) - dayOf(last.playedAtMs, utcOffsetMinutes);
}

function safeTempoBpm(practice: Practice): number {
  if (practice.holdsBpm !== null) return practice.holdsBpm;
  const heldBpm = onceHeldBpm(practice.played);
  return heldBpm === null ? practice.present.verdict.nextTempoBpm : easedTempoBpm(heldBpm);
}

/** Practices whose present tempo may be raised, or lacks only more of the same; those that may first, then the surest. */
function nearRaises(
  practices: readonly Practice[],
  charts: readonly SessionChart[],
): readonly Candidate[] {
  const goals = new Map(charts.map(({ chartId, goalBpm }) => [chartId, goalBpm]));
  const goalOf = ({ chartId }: Practice): number => goals.get(chartId) ?? Number.POSITIVE_INFINITY;
  return practices
    .filter((practice) => practice.present.tempoBpm < goalOf(practice) || !isReady(practice))
    .filter((practice) => isNear(practice))
    .sort(
      (one, other) =>
        Number(isReady(other)) - Number(isReady(one)) ||
        other.present.verdict.interval.lower - one.present.verdict.interval.lower,
    )
    .map((practice) => {
      const { verdict, tempoBpm } = practice.present;
      return candidate(
        playOf(practice, Math.min(verdict.nextTempoBpm, Math.max(goalOf(practice), tempoBpm))),
        {
          kind: 'nearRaise',
          presentBpm: tempoBpm,
          obstacles: verdict.obstacles,
        },
      );
    });
}

function isReady({ present }: Practice): boolean {
  return present.verdict.verdict === 'raise';
}

/** Nothing stands in the way of a raise but too little played: the rate itself is high enough. */
function isNear({ present }: Practice): boolean {
  const { clean, slots, obstacles } = present.verdict;
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
