/** The calls about progress, over the history in memory. */

import type {
  CallReply,
  CallRequest,
  PracticeDetail,
  PracticeRow,
} from '../../../shared/bridge/index.ts';
import {
  dayOf,
  dayStartMs,
  describeDrill,
  describeGain,
  describePlace,
  designEffectOf,
  drillOf,
  drillState,
  isSamePractice,
  ladderOf,
  lastBarOf,
  nameOfPractice,
  type PracticeName,
  practiceId,
  proposeSession,
  rateOfGain,
  standingOf,
  startTempoBpm,
  temposOf,
  weakPlaces,
} from '../../core/progress/index.ts';
import { refusal, StoreError } from '../store/index.ts';
import type { GoalBook } from './goals.ts';
import { createHeatBook } from './heat.ts';
import type { History } from './history.ts';
import { latestFirst, type PracticeBook, type PracticesOf } from './practices.ts';

export interface ProgressParts {
  readonly history: History;
  /** Minutes played since a moment, ms since 1970. */
  minutesPlayedSince(fromMs: number): number;
  readonly practiceBook: PracticeBook;
  readonly goalBook: GoalBook;
  readonly nowMs: () => number;
  /** How far the clock of the machine is ahead of UTC. */
  readonly utcOffsetMinutes: number;
}

/** Places told of one practice, and takes laid out in its plot. */
const MOST_PLACES = 5;
const MOST_TAKES = 4000;

export type ProgressHandlers = ReturnType<typeof createProgressHandlers>;

export function createProgressHandlers(parts: ProgressParts) {
  const { history, practiceBook, goalBook, nowMs } = parts;
  const heatBook = createHeatBook(history);

  const practicesBy = (utcOffsetMinutes: number): PracticesOf =>
    history.practices({ nowMs: nowMs(), utcOffsetMinutes });

  /** The charts that were played, and some that were not. */
  return {
    'progress.practices'({
      most,
      utcOffsetMinutes,
    }: CallRequest<'progress.practices'>): CallReply<'progress.practices'> {
      const goalOf = goalBook.goals();
      const practices = practicesBy(utcOffsetMinutes);
      return {
        practices: practiceBook.latest(practices, most, nowMs()).map((practice): PracticeRow => {
          return {
            ...nameOfPractice(practice),
            chartTitle: practice.chartTitle,
            takes: practice.takeCount,
            lastTakeId: practice.last.takeId,
            standing: standingOf(
              practice,
              goalOf(practice.chartId)?.goalBpm ?? null,
              nowMs(),
              utcOffsetMinutes,
            ),
          };
        }),
        all: latestFirst(practices).map(({ name, last }) => ({
          ...nameOfPractice(name),
          chartTitle: last.chartTitle,
        })),
      };
    },

    'progress.practice'({
      practice: name,
      utcOffsetMinutes,
    }: CallRequest<'progress.practice'>): PracticeDetail {
      const isNamed = (other: PracticeName): boolean => isSamePractice(other, name);
      const found = practicesBy(utcOffsetMinutes).get(practiceId(name));
      const practice = found === undefined ? null : practiceBook.judge(found, nowMs());
      if (practice === null) {
        throw new StoreError(
          refusal('notFound', 'Nothing of this was played.', 'Open the page again.'),
        );
      }
      const { present } = practice;
      const takes = history.whole(isNamed).toArray();
      const recent = history.withChords(present.takes);
      const lastBar = lastBarOf(practice.recent);
      const drills = history.recentDrills(nowMs()).filter(isNamed);
      return {
        gainWords: describeGain(rateOfGain({ takes }, nowMs(), utcOffsetMinutes)),
        places: weakPlaces(recent)
          .slice(0, MOST_PLACES)
          .map((place) => {
            const drill = drillOf(place, present.tempoBpm, lastBar);
            const state = drillState(drill, drills, nowMs());
            return {
              bars: { from: place.from, to: place.to },
              words: describePlace(place),
              drill: drill.bars,
              drillBpm: state.tempoBpm,
              drillWords: describeDrill(state, drill.bars),
            };
          }),
        tempos: temposOf(takes, nowMs()).map(({ tempoBpm, takes: own, verdict }) => ({
          tempoBpm,
          takes: own.length,
          slots: verdict.slots,
          clean: verdict.clean,
          lower: verdict.interval.lower,
          upper: verdict.interval.upper,
          verdict: verdict.verdict,
        })),
        designEffect: designEffectOf(recent.map(({ evidence }) => evidence)),
        takes: takes.slice(0, MOST_TAKES).map(({ takeId, tempoBpm, evidence }) => ({
          ...{ takeId, tempoBpm, playedAtMs: evidence.playedAtMs },
          ...{ slots: evidence.slots, clean: evidence.clean },
        })),
      };
    },

    'progress.session'(wish: CallRequest<'progress.session'>): CallReply<'progress.session'> {
      const { minutes, dailyLimitMinutes, locked, skippedIds, utcOffsetMinutes } = wish;
      const today = dayOf(nowMs(), utcOffsetMinutes);
      const playedMinutes = parts.minutesPlayedSince(dayStartMs(today, utcOffsetMinutes));
      const practices = practicesBy(utcOffsetMinutes);
      const session = proposeSession({
        minutes,
        limitLeftMinutes:
          dailyLimitMinutes === null ? null : Math.max(0, dailyLimitMinutes - playedMinutes),
        locked,
        skippedIds,
        practices: practiceBook.latest(practices, null, nowMs()),
        charts: goalBook.ofSession(practices),
        drillTakes: history.recentDrills(nowMs()),
        nowMs: nowMs(),
        utcOffsetMinutes,
      });
      return { session, playedMinutes };
    },

    'progress.ladder'({ chartId }: CallRequest<'progress.ladder'>): CallReply<'progress.ladder'> {
      const chart = goalBook.goals()(chartId);
      if (chart === null) return { rungs: [] };
      const own = [...practicesBy(parts.utcOffsetMinutes).values()].filter(
        ({ name }) => name.chartId === chartId,
      );
      const ladder = ladderOf(
        chart,
        own.flatMap((practice) => practiceBook.judge(practice, nowMs()) ?? []),
      );
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
      heatBook(wish),
  } as const;
}
