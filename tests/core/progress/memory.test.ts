/** The memory after many days against the library itself, day by day: the model is the library's, only asked for less. */

import { createEmptyCard, fsrs, Rating } from 'ts-fsrs';
import { expect, test } from 'vitest';
import {
  DAY_RATINGS,
  memoryOf,
  type RatedDay,
  SPACING,
} from '../../../src/core/progress/spacing/memory.ts';
import { chanceOf } from './chance.ts';

const DAY_MS = 86_400_000;
const GRADES = [Rating.Again, Rating.Hard, Rating.Good, Rating.Easy] as const;

test('the memory after rated days is that of the library, which is told of each', () => {
  const chance = chanceOf(4);
  const schedule = fsrs({
    request_retention: SPACING.retention,
    maximum_interval: SPACING.longestDays,
    enable_fuzz: false,
    enable_short_term: false,
  });
  for (let player = 0; player < 200; player++) {
    const days: RatedDay[] = [];
    let day = 20_000;
    let card = createEmptyCard(new Date(day * DAY_MS));
    for (let index = 0; index <= player % 20; index++) {
      const rank = Math.floor(chance() * 4);
      days.push({ day, rating: DAY_RATINGS[rank] ?? 'good' });
      card = schedule.next(card, new Date(day * DAY_MS), GRADES[rank] ?? Rating.Good).card;
      day += 1 + Math.floor(chance() ** 3 * 60);
    }
    expect(memoryOf(days)).toMatchObject({
      stabilityDays: card.stability,
      difficulty: card.difficulty,
      dueDay: (days.at(-1)?.day ?? 0) + Math.min(card.scheduled_days, SPACING.longestDays),
    });
  }
});
