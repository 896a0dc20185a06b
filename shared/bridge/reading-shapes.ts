/** Readings of a take and what the player said to one, as the core's `Reading` and `ReadingDecision`. */

import { LEVELS, READING_CHOICES } from '../../src/core/words.ts';
import { z } from '../schema.ts';

const cleared = {
  fromSlot: z.null(),
  clears: z.int().min(0),
  of: z.int().min(0),
};
const slots = z.int();

export const readingSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('timing'),
    value: z.strictObject({
      swing: z.number().min(1).max(4),
      latencyMs: z.number().min(-500).max(1000),
    }),
    ...cleared,
  }),
  z.strictObject({
    kind: z.literal('split'),
    value: z.int().min(0).max(127).nullable(),
    ...cleared,
  }),
  z.strictObject({ kind: z.literal('start'), value: slots, ...cleared }),
  z.strictObject({ kind: z.literal('key'), value: z.int().min(-5).max(6), ...cleared }),
  z.strictObject({
    kind: z.literal('slip'),
    value: z.int().min(-2).max(2),
    ...cleared,
    fromSlot: z.int().min(0),
  }),
  z.strictObject({ kind: z.literal('level'), value: z.enum(LEVELS), ...cleared }),
]);

/** Those that clear most first. */
export const readingsSchema = z.array(readingSchema).max(3).readonly();

export const readingDecisionSchema = z.strictObject({
  reading: readingSchema,
  choice: z.enum(READING_CHOICES),
});
