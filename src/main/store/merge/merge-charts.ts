/** Charts that come in: new, the same, deleted here, or beside another of their id; their tags and melodies. */

import type { DatabaseSync } from 'node:sqlite';
import type { Contents, KeptChart, KeptMelody, KeptTags } from '../contents.ts';
import { createPracticeForms } from '../practice-forms.ts';
import { derivedId, type Tally } from './tally.ts';

/** Answers the ids under which charts that came in are kept, where they are others than they came with. */
export function mergeCharts(
  database: DatabaseSync,
  own: Contents,
  incoming: readonly KeptChart[],
  { added, alreadyHere, told }: Tally,
): ReadonlyMap<string, string> {
  const keptAs = new Map<string, string>();
  const here = new Map(own.charts().map((chart) => [chart.chartId, chart]));
  const idIsUsed = (id: string): boolean =>
    database.prepare('SELECT 1 FROM charts WHERE chart_id = ?').get(id) !== undefined;
  const undelete = database.prepare(
    'UPDATE charts SET deleted_at_ms = NULL WHERE chart_id = ? AND title = ? AND text = ?',
  );
  const insert = database.prepare(
    'INSERT INTO charts (chart_id, title, text, updated_at_ms) VALUES (?, ?, ?, ?)',
  );

  const forms = createPracticeForms(database);
  function add(chartId: string, chart: KeptChart): void {
    insert.run(chartId, chart.title, chart.text, chart.updatedAtMs);
    forms.settleChart(chartId);
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
      told.push({ kind: 'chartBack', title });
    } else {
      const otherId = derivedId(chartId, title, text);
      keptAs.set(chartId, otherId);
      if (idIsUsed(otherId)) alreadyHere.charts++;
      else {
        add(otherId, chart);
        told.push({ kind: 'chartDiffers', title });
      }
    }
  }
  return keptAs;
}

/** A chart that has a melody here keeps it; `keptAs` is what `mergeCharts` answered. */
export function mergeMelodies(
  database: DatabaseSync,
  own: Contents,
  incoming: { readonly charts: readonly KeptChart[]; readonly melodies: readonly KeptMelody[] },
  keptAs: ReadonlyMap<string, string>,
  { told }: Tally,
): void {
  const here = new Map(
    own.melodies().map(({ chartId, melody }) => [chartId, JSON.stringify(melody)]),
  );
  const titles = new Map(incoming.charts.map(({ chartId, title }) => [chartId, title]));
  // One of a deleted chart that stayed deleted here is in the way of none.
  const insert = database.prepare(
    `INSERT INTO chart_melodies (chart_id, melody) VALUES (?, ?)
     ON CONFLICT (chart_id) DO UPDATE SET melody = excluded.melody`,
  );
  for (const { chartId, melody } of incoming.melodies) {
    const id = keptAs.get(chartId) ?? chartId;
    const json = JSON.stringify(melody);
    const known = here.get(id);
    if (known === undefined) insert.run(id, json);
    else if (known !== json) {
      const title = titles.get(chartId) ?? 'a chart';
      told.push({ kind: 'melodyDiffers', title });
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
