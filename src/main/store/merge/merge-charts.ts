/** Charts that come in: new, the same, deleted here, or beside another of their id; and their tags. */

import type { DatabaseSync } from 'node:sqlite';
import type { Contents, KeptChart, KeptTags } from '../contents.ts';
import { derivedId, type Tally } from './tally.ts';

export function mergeCharts(
  database: DatabaseSync,
  own: Contents,
  incoming: readonly KeptChart[],
  { added, alreadyHere, told }: Tally,
): void {
  const here = new Map(own.charts().map((chart) => [chart.chartId, chart]));
  const idIsUsed = (id: string): boolean =>
    database.prepare('SELECT 1 FROM charts WHERE chart_id = ?').get(id) !== undefined;
  const undelete = database.prepare(
    'UPDATE charts SET deleted_at_ms = NULL WHERE chart_id = ? AND title = ? AND text = ?',
  );
  const insert = database.prepare(
    'INSERT INTO charts (chart_id, title, text, updated_at_ms) VALUES (?, ?, ?, ?)',
  );

  function add(chartId: string, chart: KeptChart): void {
    insert.run(chartId, chart.title, chart.text, chart.updatedAtMs);
    here.set(chartId, { ...chart, chartId });
    added.charts++;
  }

  for (const chart of incoming) {
    const { chartId, title, text } = chart;
    const known = here.get(chartId);
    if (known?.title === title && known.text === text) alreadyHere.charts++;
    else if (!idIsUsed(chartId)) add(chartId, chart);
    else if (known === undefined && Number(undelete.run(chartId, title, text).changes) > 0) {
      here.set(chartId, chart);
      added.charts++;
      told.push(`The chart ${title} was deleted here and is back.`);
    } else if (idIsUsed(derivedId(chartId, title, text))) alreadyHere.charts++;
    else {
      add(derivedId(chartId, title, text), chart);
      told.push(`The chart ${title} differs from the one here: both are kept.`);
    }
  }
}

/** A chart that has tags here keeps them. */
export function mergeTags(
  database: DatabaseSync,
  own: Contents,
  incoming: readonly KeptTags[],
): void {
  const here = new Set(own.tags().map(({ chartId }) => chartId));
  const insert = database.prepare('INSERT OR IGNORE INTO chart_tags (chart_id, tag) VALUES (?, ?)');
  for (const { chartId, tags } of incoming) {
    if (here.has(chartId)) continue;
    for (const tag of tags) insert.run(chartId, tag);
  }
}
