/** Forms in 4/4 to count lines over: the program's own charts, and progressions made by chance of what common forms are made of. */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { scatter } from '../../../src/core/chance.ts';
import {
  beatsPerBar,
  type Form,
  parseChart,
  parseKeyText,
  transposeToKey,
  unrollForm,
} from '../../../src/core/chart/index.ts';

const CHARTS = join(import.meta.dirname, '..', '..', '..', 'shared', 'charts');

/** The charts that come with the program, those in bars of four beats. */
export function starterForms(): readonly Form[] {
  return readdirSync(CHARTS)
    .sort()
    .map((file) => formOfText(readFileSync(join(CHARTS, file), 'utf8')))
    .filter(({ bars }) => bars.every(({ meter }) => beatsPerBar(meter) === 4));
}

/** Four bars each, in C major or minor; all common practice, no source. */
const MAJOR = [
  'Dm7 | G7 | Cmaj7 | Cmaj7',
  'Dm7 G7 | Em7 A7 | Dm7 G7 | C6',
  'Cmaj7 | A7b9 | Dm7 | G7',
  'Gm7 | C7 | Fmaj7 | Bb7',
  'Em7b5 | A7b9 | Dm7 | G7',
  'C7 | F7 | C7 | G7',
  'Fmaj7 | Fm6 | Em7 | A7',
  'D7 | D7 | Dm7 | G7',
  'Cmaj7 C#dim7 | Dm7 D#dim7 | Em7 A7 | Dm7 G7',
  'Cmaj7 Ebmaj7 | Abmaj7 Dbmaj7 | Cmaj7 | Dm7 Db7',
];
const MINOR = [
  'Cm7 | Cm7 | Dm7b5 | G7b9',
  'Fm7 | Bb7 | Ebmaj7 | Abmaj7',
  'Dm7b5 | G7alt | Cm6 | Cm6',
  'Cm7 | Ab7 | Dm7b5 G7 | Cm6',
  'Fm7 | Fm7 | Cm7 | G7b9',
];
const MAJOR_KEYS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const MINOR_KEYS = ['C', 'C#', 'D', 'Eb', 'E', 'F', 'F#', 'G', 'G#', 'A', 'Bb', 'B'];
const FOURS = 4;

/** So many forms of 16 bars: four such fours each, in keys by chance. The same number gives the same forms. */
export function forms16(count: number): readonly Form[] {
  return Array.from({ length: count }, (_, index) => {
    const chance = (part: number): number => (scatter(index * 31 + part * 7 + 1) >>> 0) / 2 ** 32;
    const isMinor = chance(0) < 0.35;
    const table = isMinor ? MINOR : MAJOR;
    const rows = Array.from(
      { length: FOURS },
      (_, four) => table[Math.floor(chance(four + 1) * table.length)],
    );
    const keys = isMinor ? MINOR_KEYS : MAJOR_KEYS;
    const key = keys[Math.floor(chance(FOURS + 1) * keys.length)] ?? 'C';
    const home = isMinor ? 'Cm' : 'C';
    const text = `title: Form ${index}\nkey: ${home}\nmeter: 4/4\n| ${rows.join(' |\n| ')} |\n`;
    return formOfText(text, isMinor ? `${key}m` : key);
  });
}

function formOfText(text: string, key: string | null = null): Form {
  const chart = parseChart(text);
  if (!chart.ok) throw new Error(`not a chart: ${text}`);
  const wanted = key === null ? null : parseKeyText(key);
  const moved = wanted?.ok ? transposeToKey(chart.value, wanted.value) : chart;
  const form = moved.ok ? unrollForm(moved.value, 'plain') : moved;
  if (!form.ok) throw new Error(`no form: ${text}`);
  return form.value;
}
