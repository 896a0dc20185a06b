/** Charts to invent players over: the starter charts, and progressions made up from a seed. Invented data. */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type Form, parseChart, unrollForm } from '../../../../src/core/chart/index.ts';
import type { Chance } from '../../progress/chance.ts';

const folder = join(import.meta.dirname, '../../../../shared/charts');

/** The plain form of a chart's text; throws for one that cannot be read: a mistake of the test. */
function formOfText(text: string): Form {
  const chart = parseChart(text);
  const form = chart.ok ? unrollForm(chart.value, 'plain') : chart;
  if (!form.ok) throw new Error(JSON.stringify(form.problems));
  return form.value;
}

/** All starter charts, in the order of their names. */
export function starterForms(): readonly Form[] {
  return readdirSync(folder)
    .filter((name) => name.endsWith('.chart'))
    .sort()
    .map((name) => formOfText(readFileSync(join(folder, name), 'utf8')));
}

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const QUALITIES = ['maj7', 'm7', '7', '7', 'm7', 'm7b5', '6', 'm6', 'maj7', '7b9'];
/** Semitones from one root to the next: mostly up a fourth, as progressions go. */
const MOVES = [5, 5, 5, 5, 2, 10, 3, 9, 11, 6];

/** A form of 8 to 32 bars in one of a few meters, one chord or two to a bar. */
export function inventedForm(chance: Chance): Form {
  const pick = <Value>(values: readonly Value[]): Value => {
    const value = values[Math.floor(chance() * values.length)];
    if (value === undefined) throw new Error('nothing to pick from');
    return value;
  };
  const bars = pick([8, 12, 16, 24, 32]);
  const meter = pick(['4/4', '4/4', '4/4', '4/4', '3/4', '5/4', '6/8']);
  const isBusy = chance();
  let root = Math.floor(chance() * ROOTS.length);
  const chord = (): string => {
    root = (root + pick(MOVES)) % ROOTS.length;
    return `${ROOTS[root]}${pick(QUALITIES)}`;
  };
  const written = Array.from({ length: bars }, () =>
    chance() < isBusy * 0.6 ? `${chord()} ${chord()}` : chord(),
  );
  return formOfText(`title: Made Up\nkey: C\nmeter: ${meter}\n\n[A]\n| ${written.join(' | ')} |\n`);
}
