/** What was read of chart texts, kept so that a start need not read them all again; derived, and told by a sum of the text. */

import type { DatabaseSync } from 'node:sqlite';
import { transaction } from './open-store.ts';

export interface ChartOutlines {
  /** Those kept, by the sum of their text. */
  all(): ReadonlyMap<string, string>;
  /** Keeps these in the place of all others. */
  keep(outlines: ReadonlyMap<string, string>): void;
}

export function createChartOutlines(database: DatabaseSync): ChartOutlines {
  const all = database.prepare('SELECT text_sum, outline FROM chart_outlines');
  const insert = database.prepare('INSERT INTO chart_outlines (text_sum, outline) VALUES (?, ?)');
  return {
    all: () =>
      new Map(all.all().map((row) => [String(row['text_sum']), String(row['outline'])] as const)),
    keep(outlines) {
      transaction(database, () => {
        database.exec('DELETE FROM chart_outlines');
        for (const [sum, outline] of outlines) insert.run(sum, outline);
      });
    },
  };
}
