/**
 * What the ladder asks of chart texts, kept: to read the texts of a library of years anew takes longer than a screen may wait
 * (some sixty of them, right after a start: 120 ms of work; what is kept of them: 3 ms). Each row tells of which text it is.
 */

import { createHash } from 'node:crypto';
import type { DatabaseSync } from 'node:sqlite';
import { z } from 'zod';
import { parseChart } from '../../core/chart/index.ts';
import { formatKey, type Key, parseKey } from '../../core/theory/index.ts';
import { transaction } from './open-store.ts';

export interface ChartOutline {
  /** Names of its plans, without `plain`. */
  readonly plans: readonly string[];
  readonly key: Key;
  readonly tempoBpm: number | null;
}

/** The outlines of charts, by their ids; without those whose text cannot be read. */
export type ChartOutlines = (
  charts: readonly { readonly chartId: string; readonly text: string }[],
) => ReadonlyMap<string, ChartOutline>;

const rowSchema = z.tuple([z.array(z.string()), z.string(), z.number().nullable()]);

/** `version` is that of the program: another may read the same text otherwise. */
export function createChartOutlines(database: DatabaseSync, version: string): ChartOutlines {
  const kept = database.prepare('SELECT text_sum, outline FROM chart_outlines WHERE chart_id = ?');
  const keep = database.prepare(
    'INSERT OR REPLACE INTO chart_outlines (chart_id, text_sum, outline) VALUES (?, ?, ?)',
  );
  const sumOf = (text: string): string =>
    createHash('sha256').update(`${version} ${text}`).digest('base64');

  return (charts) => {
    const outlines = new Map<string, ChartOutline>();
    const fresh: (readonly [chartId: string, sum: string, outline: ChartOutline])[] = [];
    for (const { chartId, text } of charts) {
      const sum = sumOf(text);
      const row = kept.get(chartId);
      const known = row?.['text_sum'] === sum ? keptOutline(String(row['outline'])) : null;
      const outline = known ?? readOutline(text);
      if (outline !== null) outlines.set(chartId, outline);
      if (outline !== null && known === null) fresh.push([chartId, sum, outline]);
    }
    if (fresh.length === 0) return outlines;
    try {
      transaction(database, () => {
        for (const [chartId, sum, outline] of fresh) keep.run(chartId, sum, textOf(outline));
      });
    } catch {
      // A disk that is full keeps nobody from practising: the texts are read again as long as it is.
    }
    return outlines;
  };
}

function readOutline(text: string): ChartOutline | null {
  const parsed = parseChart(text);
  if (!parsed.ok) return null;
  const { plans, key, tempoBpm } = parsed.value;
  return { plans: plans.map(({ name }) => name), key, tempoBpm };
}

function textOf({ plans, key, tempoBpm }: ChartOutline): string {
  return JSON.stringify([plans, formatKey(key), tempoBpm]);
}

/** Null for what is damaged. */
function keptOutline(text: string): ChartOutline | null {
  try {
    const [plans, keyText, tempoBpm] = rowSchema.parse(JSON.parse(text));
    const key = parseKey(keyText);
    return key && { plans, key, tempoBpm };
  } catch {
    return null;
  }
}
