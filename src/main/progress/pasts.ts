/** What each practice came to before the month under way, kept from one start of the program to the next. */

import { z } from 'zod';
import {
  DAY_RATINGS,
  dayOf,
  noPast,
  type Past,
  type PlayedTake,
  pastUntil,
} from '../../core/progress/index.ts';
import { type HistoryPasts, MONTH_MS } from '../store/index.ts';
import type { TakesOf } from './practices.ts';
import type { Rest } from './rest.ts';

/** Raised with every change of what a day is rated, of the model, or of the text: a past of another rule is told anew. */
const RULES = 1;

const stateSchema = z.tuple([z.number(), z.number(), z.number()]);
const ratedSchema = z.tuple([z.number(), z.enum(DAY_RATINGS)]);
const textSchema = z.object({
  rules: z.literal(RULES),
  /** By `practiceId`. */
  practices: z.record(
    z.string(),
    z.object({
      heldBpm: z.number().nullable(),
      before: stateSchema.nullable(),
      last: ratedSchema.nullable(),
    }),
  ),
});

type PracticeText = z.infer<typeof textSchema>['practices'][string];

function textOf({ heldBpm, days: { before, last } }: Past): PracticeText {
  return {
    heldBpm,
    before: before && [before.day, before.stability, before.difficulty],
    last: last && [last.day, last.rating],
  };
}

function daysOf({ before, last }: PracticeText): Past['days'] {
  const [day, stability, difficulty] = before ?? [0, 0, 0];
  return {
    before: before && { day, stability, difficulty },
    last: last && { day: last[0], rating: last[1] },
  };
}

function untilDayOf(month: number, utcOffsetMinutes: number): number {
  return dayOf(month * MONTH_MS, utcOffsetMinutes);
}

/** The pasts that are kept and still hold, by the very lists of takes. Takes are those that the library holds now. */
export function readPasts(
  kept: HistoryPasts,
  takes: TakesOf,
  utcOffsetMinutes: number,
): WeakMap<readonly PlayedTake[], Past> {
  const pasts = new WeakMap<readonly PlayedTake[], Past>();
  const found = kept.read(utcOffsetMinutes);
  if (found === null) return pasts;
  const text = parsed(found.text);
  const untilDay = untilDayOf(found.month, utcOffsetMinutes);
  for (const [name, own] of takes) {
    const told = text?.practices[name];
    if (told === undefined) continue;
    pasts.set(own, { untilDay, utcOffsetMinutes, heldBpm: told.heldBpm, days: daysOf(told) });
  }
  return pasts;
}

function parsed(text: string): z.infer<typeof textSchema> | null {
  try {
    return textSchema.safeParse(JSON.parse(text)).data ?? null;
  } catch {
    return null;
  }
}

/** Keeps the past of every practice before a month, unless that is kept already, or a month before it has no piece. */
export async function keepPasts(
  kept: HistoryPasts,
  takes: TakesOf,
  month: number,
  utcOffsetMinutes: number,
  rest: Rest,
): Promise<void> {
  const found = kept.read(utcOffsetMinutes);
  if (found?.month === month && parsed(found.text) !== null) return;
  const sum = kept.sumBefore(month);
  // What was played before 1970 lies in the first month, whatever its day.
  if (sum === null || month < 1) return;
  const untilDay = untilDayOf(month, utcOffsetMinutes);
  const practices: Record<string, PracticeText> = {};
  for (const [name, own] of takes) {
    await rest();
    practices[name] = textOf(pastUntil(untilDay, own, noPast(utcOffsetMinutes)));
  }
  const text: z.infer<typeof textSchema> = { rules: RULES, practices };
  kept.keep(utcOffsetMinutes, { month, text: JSON.stringify(text) }, sum);
}
