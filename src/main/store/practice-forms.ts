/**
 * Which form a practice is of: evidence belongs to the music that was played, and counts as long as the chart still has it. A title,
 * a tag or a comment changes nothing; another form or other chords begin anew, and what was played before stands beside, uncounted.
 */

import { createHash } from 'node:crypto';
import type { DatabaseSync } from 'node:sqlite';
import { type Chart, musicOf, parseChart } from '../../core/chart/index.ts';
import { parseKey } from '../../core/theory/index.ts';
import { transaction } from './open-store.ts';

export interface PracticeForms {
  /** A sum of what a chart text sounds like under a plan in a key; the same for every text that cannot be read. */
  formOf(text: string, plan: string, key: string): string;
  /** Tells of all practices of a chart whether they are of the form that it has now. */
  settleChart(chartId: string): void;
  /** The same of those under one plan in one key. */
  settle(chartId: string, plan: string, key: string): void;
}

/** Nine bytes: among a million forms the chance that two have the same is one in ten thousand millions. */
const SUM_LETTERS = 12;
const UNREADABLE = '';

/** Each text is read once: one that is asked for again should be asked of the same forms. */
export function createPracticeForms(database: DatabaseSync): PracticeForms {
  const read = new Map<string, Chart | null>();
  const textOf = database.prepare('SELECT text FROM charts WHERE chart_id = ?');
  // Of a chart that is not kept here, as those that come with the program, the form played last is the one it has.
  const playedLast = database.prepare(
    `SELECT form FROM practices JOIN take_facts USING (practice)
     WHERE chart_id = ? AND plan = ? AND key = ? ORDER BY played_at_ms DESC, take_id DESC LIMIT 1`,
  );
  const mark = database.prepare(
    'UPDATE practices SET is_present = (form = ?) WHERE chart_id = ? AND plan = ? AND key = ?',
  );
  const named = database.prepare('SELECT DISTINCT plan, key FROM practices WHERE chart_id = ?');

  function chartOf(text: string): Chart | null {
    const known = read.get(text);
    if (known !== undefined) return known;
    const parsed = parseChart(text);
    const chart = parsed.ok ? parsed.value : null;
    read.set(text, chart);
    return chart;
  }

  function formOf(text: string, plan: string, keyText: string): string {
    const chart = chartOf(text);
    const key = parseKey(keyText) ?? chart?.key ?? null;
    const music = chart && key && musicOf(chart, plan, key);
    if (music === null) return UNREADABLE;
    return createHash('sha256').update(music).digest('base64url').slice(0, SUM_LETTERS);
  }

  function settle(chartId: string, plan: string, key: string): void {
    const text = textOf.get(chartId)?.['text'];
    const last = playedLast.get(chartId, plan, key)?.['form'];
    const form = typeof text === 'string' ? formOf(text, plan, key) : String(last ?? UNREADABLE);
    mark.run(form, chartId, plan, key);
  }

  return {
    formOf,
    settle,
    settleChart(chartId) {
      transaction(database, () => {
        for (const { plan, key } of named.all(chartId)) settle(chartId, String(plan), String(key));
      });
    },
  };
}
