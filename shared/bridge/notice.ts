/** What a player should know beside what was asked for, as it crosses the bridge. Words: `shared/notice-words.ts`. */

import { z } from '../schema.ts';
import { refusalSchema } from './refusal.ts';

const text = z.string().max(2000);
const atMs = z.number();
const count = z.number().min(0);
const why = refusalSchema.shape.why;

function kind<Kind extends string, Shape extends z.ZodRawShape>(name: Kind, shape: Shape) {
  return z.strictObject({ kind: z.literal(name), ...shape });
}

/** A take that is kept and does not count. */
const uncounted = kind('uncounted', {
  startedAtMs: atMs,
  chartTitle: text,
  because: z.enum(['partDamaged', 'chartUnreadable', 'takeTooLong', 'figuresUnreadable']),
});
export type Uncounted = z.infer<typeof uncounted>;

/** Of this run of the program. */
export const hostNoticeSchema = z.discriminatedUnion('kind', [
  uncounted,
  /** So many more, whose figures cannot be read. */
  kind('moreUncounted', { takes: count }),
  kind('clockBehind', { nowMs: atMs, latestTakeMs: atMs }),
  kind('backupFailed', { why }),
  kind('takeUnfinished', { why }),
]);
export type HostNotice = z.infer<typeof hostNoticeSchema>;

/** What could not be read of a library while it was written as an archive. */
export const unreadSchema = z.discriminatedUnion('kind', [
  kind('figures', {}),
  kind('chart', { row: count }),
  kind('take', { row: count }),
  kind('takePart', { startedAtMs: atMs, chartTitle: text, events: count }),
  kind('hidden', { table: text }),
  kind('some', { table: text }),
]);
export type Unread = z.infer<typeof unreadSchema>;

/** What was kept twice, or left as it is here, when an archive was imported. */
export const mergedSchema = z.discriminatedUnion('kind', [
  uncounted,
  kind('setting', { name: text }),
  kind('device', { name: text }),
  kind('chartBack', { title: text }),
  kind('chartDiffers', { title: text }),
  kind('melodyDiffers', { title: text }),
  kind('takeNote', { startedAtMs: atMs, chartTitle: text }),
  /** `gone`: it was deleted here, or cannot be read. */
  kind('takeBeside', { startedAtMs: atMs, chartTitle: text, because: z.enum(['gone', 'differs']) }),
  kind('remark', { atMs }),
  kind('passedOver', { path: text }),
]);
export type Merged = z.infer<typeof mergedSchema>;
