/**
 * How well a thing once practised is still there, by FSRS-6, in whole days and without chance. The only file that knows
 * the library. Source of the model and its default weights: the library itself, ts-fsrs 5.4.2.
 * The weights were fitted to recall of facts, not to hands: when to come back is advice, not a measurement.
 */

import { createEmptyCard, fsrs, Rating, State } from 'ts-fsrs';
import { DAY_MS } from '../days.ts';

/** How a day went, from lost to effortless. */
export const DAY_RATINGS = ['again', 'hard', 'good', 'easy'] as const;
export type DayRating = (typeof DAY_RATINGS)[number];

export interface RatedDay {
  readonly day: number;
  readonly rating: DayRating;
}

export interface Memory {
  readonly lastDay: number;
  readonly dueDay: number;
  /** Days until it is there with nine chances in ten. */
  readonly stabilityDays: number;
  /** 1 (easy) to 10. */
  readonly difficulty: number;
}

export interface SpacingSettings {
  /** The chance of its still being there at which a thing is due. */
  readonly retention: number;
  /** Nothing rests longer. */
  readonly longestDays: number;
  /** The model's weights; null for the defaults of ts-fsrs. */
  readonly weights: readonly number[] | null;
}

/** Nine in ten is the library's default. Half a year at most is our own rule: a tune left longer is a new tune. */
export const SPACING: SpacingSettings = { retention: 0.9, longestDays: 180, weights: null };

const RATINGS = {
  again: Rating.Again,
  hard: Rating.Hard,
  good: Rating.Good,
  easy: Rating.Easy,
} as const;

function schedulerOf({ retention, longestDays, weights }: SpacingSettings) {
  return fsrs({
    request_retention: retention,
    maximum_interval: longestDays,
    enable_fuzz: false,
    enable_short_term: false,
    ...(weights === null ? {} : { w: weights }),
  });
}

const published = schedulerOf(SPACING);
const scheduler = (settings: SpacingSettings): typeof published =>
  settings === SPACING ? published : schedulerOf(settings);

/** What is left after days, oldest first; null without any. */
export function memoryOf(
  days: readonly RatedDay[],
  settings: SpacingSettings = SPACING,
): Memory | null {
  const last = days.at(-1);
  if (last === undefined) return null;
  const schedule = scheduler(settings);
  let before: { day: number; stability: number; difficulty: number } | null = null;
  for (const { day, rating } of days.slice(0, -1)) {
    const gone: number = before === null ? 0 : day - before.day;
    before = { day, ...schedule.next_state(before, gone, RATINGS[rating]) };
  }
  const card = createEmptyCard(new Date((before ?? last).day * DAY_MS));
  if (before !== null) {
    const { day, ...state } = before;
    Object.assign(card, state, { state: State.Review, last_review: new Date(day * DAY_MS) });
  }
  // Of the last day alone it is asked when the next should be.
  const next = schedule.next(card, new Date(last.day * DAY_MS), RATINGS[last.rating]).card;
  const { stability, difficulty, scheduled_days } = next;
  // The library keeps the ratings a day apart beyond its own longest interval.
  const restDays = Math.min(scheduled_days, settings.longestDays);
  const lastDay = last.day;
  return { lastDay, dueDay: lastDay + restDays, stabilityDays: stability, difficulty };
}

/** The chance, 0 to 1, that it is still there on a day; a day before the last one counts as the last one. */
export function retrievabilityOn(
  { lastDay, stabilityDays }: Memory,
  day: number,
  settings: SpacingSettings = SPACING,
): number {
  return scheduler(settings).forgetting_curve(Math.max(0, day - lastDay), stabilityDays);
}
