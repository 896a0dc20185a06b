/** The grader's verdicts on intervals, each asked once and then looked up. */

import { type IntervalVerdict, judgeInterval, type PaletteView } from '../../grading/index.ts';
import type { LegalRules } from './rules.ts';

const KEYS = 128;
const VERDICTS: readonly IntervalVerdict[] = ['open', 'repeat', 'third', 'leap'];

/** Looks up the interval between two keys into a palette (null: `N.C.`). */
export type IntervalTable = (
  fromMidi: number,
  toMidi: number,
  palette: PaletteView | null,
) => IntervalVerdict;

/** A table for the level and the repeats of these rules. */
export function createIntervalTable({ level, repeats }: LegalRules): IntervalTable {
  const tables = new Map<PaletteView | null, Uint8Array>();
  return (fromMidi, toMidi, palette) => {
    let table = tables.get(palette);
    if (table === undefined) {
      table = new Uint8Array(KEYS * KEYS);
      tables.set(palette, table);
    }
    const cell = fromMidi * KEYS + toMidi;
    const known = VERDICTS[(table[cell] ?? 0) - 1];
    if (known !== undefined) return known;
    const verdict = judgeInterval(fromMidi, toMidi, palette, level, repeats);
    table[cell] = VERDICTS.indexOf(verdict) + 1;
    return verdict;
  };
}
