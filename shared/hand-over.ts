/**
 * The file a teacher hands to a student, and a student back: a chart with how it is to be practised, or a take of it.
 * JSON in UTF-8, ending `.linekeeper`, one schema; fields of a later program are refused, not lost.
 */

import { LEVELS } from '../src/core/words.ts';
import {
  chartText,
  chartTitle,
  journalMs,
  melodySchema,
  takeBreaksSchema,
  takeEventSchema,
  takeSetUpSchema,
  takeSourcesSchema,
  timeMs,
} from './bridge/shapes.ts';
import { z } from './schema.ts';

export const HAND_OVER_SCHEMA = 'linekeeper.handover/1';

const tempo = z.number().min(20).max(400);

/** What is to be practised, and what the writer says about it. */
export const assignmentSchema = z.strictObject({
  plan: z.string().max(200),
  /** A key such as `Bb`; null: the chart's own. */
  key: z.string().max(8).nullable(),
  level: z.enum(LEVELS),
  /** Beats per minute; null: the chart's own. */
  tempoBpm: tempo.nullable(),
  goalBpm: tempo.nullable(),
  bars: z.strictObject({ from: z.int().min(1), to: z.int().min(1) }).nullable(),
  choruses: z.int().min(1).max(1000).nullable(),
});

export const handOverSchema = z.strictObject({
  schema: z.literal(HAND_OVER_SCHEMA),
  title: chartTitle,
  chart: chartText,
  /** What stands beside the chart's text; left out of the file where there is none. */
  melody: melodySchema.nullable().default(null),
  assignment: assignmentSchema,
  note: z.string().max(10_000),
  /** A take that goes back, or null. Times are ms on the take's own clock; `startedAtMs` is ms since 1970. */
  take: z
    .strictObject({
      setUp: takeSetUpSchema,
      startedAtMs: journalMs,
      endMs: timeMs,
      events: z.array(takeEventSchema).max(2_000_000).readonly(),
      /** Absent from files written before they were kept. */
      sources: takeSourcesSchema.default([]),
      breaks: takeBreaksSchema.default([]),
    })
    .nullable(),
});

export type HandOver = z.infer<typeof handOverSchema>;
