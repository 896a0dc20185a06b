/** What each practice came to before the month under way, kept from one start of the program to the next. */

import { z } from 'zod';
import {
  DAY_RATINGS,
  dayOf,
  dayStartMs,
  type Past,
  type PracticeName,
  pastUntil,
  practiceId,
} from '../../core/progress/index.ts';
import { LEVELS } from '../../core/words.ts';
import { type HistoryPasts, MONTH_MS } from '../store/index.ts';
import type { PracticesOf } from './practices.ts';
import type { Rest } from './rest.ts';

/** Raised with every change of what a past tells, of the model of memory, or of the text: a past of another rule is told anew. */
const RULES = 3;

const stateSchema = z.tuple([z.number(), z.number(), z.number()]);
const ratedSchema = z.tuple([z.number(), z.enum(DAY_RATINGS)]);
const lastSchema = z.tuple([z.string(), z.string(), z.number(), z.number()]);
const practiceSchema = z.object({
  name: z.tuple([z.string(), z.string(), z.string(), z.enum(LEVELS)]),
  takeCount: z.number(),
  last: lastSchema,
  onceHeldBpm: z.number().nullable(),
  heldBpm: z.number().nullable(),
  before: stateSchema.nullable(),
  rated: ratedSchema.nullable(),
});
const textSchema = z.object({ rules: z.literal(RULES), practices: z.array(practiceSchema) });

type PracticeText = z.infer<typeof practiceSchema>;

/** Null for a practice that had not begun. */
function textOf(
  { chartId, plan, key, level }: PracticeName,
  { takeCount, last, onceHeldBpm, heldBpm, days }: Past,
): PracticeText | null {
  const { before, last: rated } = days;
  return (
    last && {
      name: [chartId, plan, key, level],
      takeCount,
      last: [last.takeId, last.chartTitle, last.tempoBpm, last.playedAtMs],
      onceHeldBpm,
      heldBpm,
      before: before && [before.day, before.stability, before.difficulty],
      rated: rated && [rated.day, rated.rating],
    }
  );
}

function daysOf({ before, rated }: PracticeText): Past['days'] {
  const [day, stability, difficulty] = before ?? [0, 0, 0];
  return {
    before: before && { day, stability, difficulty },
    last: rated && { day: rated[0], rating: rated[1] },
  };
}

/** What every practice came to before a month. */
export interface Pasts {
  /** The first month that is not in it any more. */
  readonly month: number;
  /** As they were kept. */
  readonly text: string;
  /** When the first day begins that is not in it, ms since 1970. */
  readonly untilMs: number;
  /** By `practiceId`. */
  readonly practices: ReadonlyMap<string, { readonly name: PracticeName; readonly past: Past }>;
}

/** The pasts that are kept for a clock, if they still say what the takes say; else null. `before` are those read last. */
export function readPasts(
  kept: HistoryPasts,
  utcOffsetMinutes: number,
  before: Pasts | null,
): Pasts | null {
  const found = kept.read(utcOffsetMinutes);
  if (found === null) return null;
  if (found.month === before?.month && found.text === before.text) return before;
  const practices = parsed(found.text);
  if (practices === null) return null;
  const untilDay = dayOf(found.month * MONTH_MS, utcOffsetMinutes);
  return {
    ...found,
    untilMs: dayStartMs(untilDay, utcOffsetMinutes),
    practices: new Map(
      practices.map((text) => {
        const [chartId, plan, key, level] = text.name;
        const name = { chartId, plan, key, level };
        const [takeId, chartTitle, tempoBpm, playedAtMs] = text.last;
        const { takeCount, onceHeldBpm, heldBpm } = text;
        const last = { takeId, chartTitle, tempoBpm, playedAtMs };
        const counts = { untilDay, utcOffsetMinutes, takeCount, onceHeldBpm, heldBpm };
        return [practiceId(name), { name, past: { ...counts, last, days: daysOf(text) } }] as const;
      }),
    ),
  };
}

function parsed(text: string): readonly PracticeText[] | null {
  try {
    return textSchema.safeParse(JSON.parse(text)).data?.practices ?? null;
  } catch {
    return null;
  }
}

/** Keeps the past of every practice before a month, unless a month before it has no piece. */
export async function keepPasts(
  kept: HistoryPasts,
  practices: PracticesOf,
  month: number,
  utcOffsetMinutes: number,
  rest: Rest,
): Promise<void> {
  const sum = kept.sumBefore(month);
  // What was played before 1970 lies in the first month, whatever its day.
  if (sum === null || month < 1) return;
  const untilDay = dayOf(month * MONTH_MS, utcOffsetMinutes);
  const texts: PracticeText[] = [];
  for (const { name, played } of practices.values()) {
    await rest();
    const text = textOf(name, pastUntil(untilDay, played, utcOffsetMinutes));
    if (text !== null) texts.push(text);
  }
  const text: z.infer<typeof textSchema> = { rules: RULES, practices: texts };
  kept.keep(utcOffsetMinutes, { month, text: JSON.stringify(text) }, sum);
}
