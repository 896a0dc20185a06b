/** Rows of what takes count for, as the core judges them. */

import type { DatabaseSync, SQLInputValue } from 'node:sqlite';
import { z } from 'zod';
import type { BarEvidence, PlayedTake, TakeEvidence } from '../../core/progress/index.ts';
import { LEVELS } from '../../core/words.ts';

/** A take as its rows tell it, without its chords. */
export interface TakeFact {
  readonly take: PlayedTake;
  /** The number of its row. */
  readonly row: number;
  /** The number of its practice. */
  readonly practice: number;
  /** The bars it was of; null for the whole form. */
  readonly bars: { readonly from: number; readonly to: number } | null;
}

/** The takes of a choice, newest first; `most` of them. */
export type FactReader = (bind: readonly SQLInputValue[], most?: number) => readonly TakeFact[];

const levelSchema = z.enum(LEVELS);
const lateSchema = z.custom<TakeEvidence['lateChanges']>(Array.isArray);

/** Reads the takes that a condition in SQL holds for, over `take_facts f` and `practices p`. */
export function createFactReader(database: DatabaseSync, condition: string): FactReader {
  const chosen = `FROM take_facts f JOIN practices p USING (practice) WHERE ${condition}
    ORDER BY f.played_at_ms DESC, f.take_id DESC LIMIT ?`;
  const takes = database.prepare(`SELECT f.*, p.chart_id, p.plan, p.key, p.level ${chosen}`);
  const bars = database.prepare(
    `SELECT b.* FROM (SELECT f.take ${chosen}) CROSS JOIN bar_facts b USING (take)`,
  );
  return (bind, most = -1) => {
    const barsOf = new Map<number, BarEvidence[]>();
    for (const row of bars.all(...bind, most)) {
      const take = Number(row['take']);
      const own = barsOf.get(take);
      if (own === undefined) barsOf.set(take, [barOf(row)]);
      else own.push(barOf(row));
    }
    return takes
      .all(...bind, most)
      .map((row) => factOf(row, barsOf.get(Number(row['take'])) ?? []));
  };
}

type Row = Readonly<Record<string, unknown>>;

function barOf({ bar, slots, clean, times, faulty_squares: squares }: Row): BarEvidence {
  return {
    ...{ bar: Number(bar), slots: Number(slots), clean: Number(clean) },
    ...(typeof times === 'number' && { times }),
    ...(typeof squares === 'number' && { faultySquares: squares }),
  };
}

function factOf(row: Row, bars: readonly BarEvidence[]): TakeFact {
  const late = row['late_changes'];
  const from = row['from_bar'];
  return {
    row: Number(row['take']),
    practice: Number(row['practice']),
    bars: from === null ? null : { from: Number(from), to: Number(row['to_bar']) },
    take: {
      takeId: String(row['take_id']),
      chartId: String(row['chart_id']),
      chartTitle: String(row['chart_title']),
      plan: String(row['plan']),
      key: String(row['key']),
      level: levelSchema.parse(row['level']),
      tempoBpm: Number(row['tempo_bpm']),
      day: Number(row['day']),
      evidence: {
        playedAtMs: Number(row['played_at_ms']),
        choruses: Number(row['choruses']),
        slots: Number(row['slots']),
        clean: Number(row['clean']),
        changesCounted: Number(row['changes_counted']),
        changesOnTime: Number(row['changes_on_time']),
        changesUnproven: Number(row['changes_unproven']),
        changesLeftOut: Number(row['changes_left_out']),
        isUndecided: row['is_undecided'] === 1,
        lateChanges: typeof late === 'string' ? lateSchema.parse(JSON.parse(late)) : [],
        bars,
      },
    },
  };
}
