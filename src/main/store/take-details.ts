/** What stands beside the events of a take as JSON: its keyboards, its breaks, its readings and what was said to them. */

import type { z } from 'zod';
import {
  takeBreaksSchema,
  takeDecisionSchema,
  takeReadingsSchema,
  type takeRecordSchema,
  takeSourcesSchema,
} from '../../../shared/bridge/index.ts';

export type TakeDetails = Pick<
  z.infer<typeof takeRecordSchema>,
  'sources' | 'breaks' | 'readings' | 'decision'
>;

export const DETAIL_COLUMNS = 'sources, breaks, readings, decision';

/** A list as its column holds it: nothing for an empty one. */
export function listText(list: readonly unknown[]): string | null {
  return list.length === 0 ? null : JSON.stringify(list);
}

/** The columns of a row. Readings are null until the take was read. */
export function readDetails(row: Readonly<Record<string, unknown>>): TakeDetails {
  return {
    sources: takeSourcesSchema.parse(parse(row['sources']) ?? []),
    breaks: takeBreaksSchema.parse(parse(row['breaks']) ?? []),
    readings: takeReadingsSchema.nullable().parse(parse(row['readings'])),
    decision: takeDecisionSchema.nullable().parse(parse(row['decision'])),
  };
}

/** A column of a library older than it is absent. */
function parse(column: unknown): unknown {
  return typeof column === 'string' ? JSON.parse(column) : null;
}
