/** The calls about progress. */

import type {
  CallReply,
  CallRequest,
  PracticeDetail,
  PracticeRow,
} from '../../../shared/bridge/index.ts';
import {
  designEffectOf,
  drillOf,
  drillState,
  isSamePractice,
  judgeReadiness,
  ladderOf,
  lastBarOf,
  type Moment,
  nameOfPractice,
  proposeSession,
  rateOfGain,
  standingOf,
  startTempoBpm,
  weakPlaces,
} from '../../core/progress/index.ts';
import { plainRefusal, StoreError } from '../store/index.ts';
import type { GoalBook } from './goals.ts';
import { heatOf } from './heat.ts';
import { type History, isNamed } from './history.ts';

export interface ProgressParts {
  readonly history: History;
  /** Minutes played on a day; days are since 1970. */
  minutesPlayedOn(day: number): number;
  readonly goalBook: GoalBook;
  now(): Moment;
}

/** Places told of one practice, and takes laid out in its plot. */
const MOST_PLACES = 5;
const MOST_TAKES = 4000;

export type ProgressHandlers = ReturnType<typeof createProgressHandlers>;

export function createProgressHandlers(parts: ProgressParts) {
  const { history, goalBook } = parts;

  return {
    'progress.practices'({
      most,
    }: CallRequest<'progress.practices'>): CallReply<'progress.practices'> {
      const now = parts.now();
      const kept = history.kept();
      const shown = kept.slice(0, most ?? kept.length);
      const goals = goalBook.of(shown.map(({ name }) => name.chartId));
      return {
        practices: history.judge(shown, now.nowMs).map(
          (practice): PracticeRow => ({
            ...nameOfPractice(practice),
            chartTitle: practice.chartTitle,
            takes: practice.takeCount,
            lastTakeId: practice.last.takeId,
            standing: standingOf(practice, goals.get(practice.chartId)?.goalBpm ?? null, now.today),
          }),
        ),
        before: history.before().map(({ name, takeCount, last, onceHeldBpm }) => ({
          ...nameOfPractice(name),
          ...{ chartTitle: last.chartTitle, takes: takeCount, lastTakeId: last.takeId },
          ...{ lastDay: last.day, lastBpm: last.tempoBpm, heldBpm: onceHeldBpm },
        })),
        all: kept.map(({ name, last }) => ({
          ...nameOfPractice(name),
          chartTitle: last.chartTitle,
        })),
      };
    },

    'progress.practice'({ practice: name }: CallRequest<'progress.practice'>): PracticeDetail {
      const now = parts.now();
      const found = history.kept().find(isNamed(name));
      const [practice] = found === undefined ? [] : history.judge([found], now.nowMs);
      if (found === undefined || practice === undefined) {
        throw new StoreError(plainRefusal('notFound', 'nothingPlayed'));
      }
      const { present } = practice;
      const takes = history.takes(found);
      const recent = history.withChords(present.takes);
      const lastBar = lastBarOf(practice.recent);
      const drills = history.recentDrills(now.nowMs).filter((take) => isSamePractice(take, name));
      return {
        gain: rateOfGain(takes, now.today),
        places: weakPlaces(recent)
          .slice(0, MOST_PLACES)
          .map((place) => {
            const drill = drillOf(place, present.tempoBpm, lastBar);
            return { place, drill: drill.bars, state: drillState(drill, drills, now.nowMs) };
          }),
        tempos: [...Map.groupBy(takes, ({ tempoBpm }) => tempoBpm)]
          .sort(([one], [other]) => other - one)
          .map(([tempoBpm, own]) => {
            const evidence = practice.recent.filter((take) => take.tempoBpm === tempoBpm);
            const verdict = judgeReadiness(
              evidence.map((take) => take.evidence),
              tempoBpm,
              now.nowMs,
            );
            return {
              tempoBpm,
              takes: own.length,
              slots: verdict.slots,
              clean: verdict.clean,
              lower: verdict.interval.lower,
              upper: verdict.interval.upper,
              verdict: verdict.verdict,
            };
          }),
        designEffect: designEffectOf(recent.map(({ evidence }) => evidence)),
        takes: takes.slice(0, MOST_TAKES),
      };
    },

    'progress.session'(wish: CallRequest<'progress.session'>): CallReply<'progress.session'> {
      const { minutes, dailyLimitMinutes, locked, skippedIds } = wish;
      const now = parts.now();
      const playedMinutes = parts.minutesPlayedOn(now.today);
      const kept = history.kept();
      const session = proposeSession({
        minutes,
        limitLeftMinutes:
          dailyLimitMinutes === null ? null : Math.max(0, dailyLimitMinutes - playedMinutes),
        locked,
        skippedIds,
        practices: history.judge(kept, now.nowMs),
        charts: goalBook.ofSession(kept),
        drillTakes: history.recentDrills(now.nowMs),
        ...now,
      });
      return { session, playedMinutes };
    },

    'progress.ladder'({ chartId }: CallRequest<'progress.ladder'>): CallReply<'progress.ladder'> {
      const chart = goalBook.of([chartId]).get(chartId);
      if (chart === undefined) return { rungs: [] };
      const own = history.kept().filter(({ name }) => name.chartId === chartId);
      const ladder = ladderOf(chart, history.judge(own, parts.now().nowMs));
      return {
        rungs: ladder.rungs.map((rung) => ({
          ...{ chartId, plan: rung.plan, key: rung.key, level: rung.level },
          state: rung.state,
          isNext: rung === ladder.next,
          tempoBpm: rung.holdsBpm ?? rung.heldBpm ?? startTempoBpm(ladder, rung).tempoBpm,
          ...{ holdsBpm: rung.holdsBpm, heldBpm: rung.heldBpm, goalBpm: rung.goalBpm },
        })),
      };
    },

    'progress.heat': (wish: CallRequest<'progress.heat'>): CallReply<'progress.heat'> =>
      heatOf(history, wish),
  } as const;
}
