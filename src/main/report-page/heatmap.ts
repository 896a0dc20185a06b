/** The chart's bars with their clean rate: a heatmap that reads without colour. */

import {
  beatsPerBar,
  type Form,
  type FormBar,
  formatBeats,
  NO_CHORD,
} from '../../core/chart/index.ts';
import { cleanRates, percent } from '../../core/findings/index.ts';
import type { ReportBar } from '../../core/grading/index.ts';
import type { Paint } from '../cli/paint.ts';

const BARS_PER_ROW = 4;
const INDENT = '      ';

/** Glyphs from empty to full: the share of clean slots as ink. */
const INK = ['·', '░', '▒', '▓', '█'] as const;

/** Lines of the heatmap over all choruses. `width` is the number of columns to fill. */
export function heatmap(
  form: Form,
  bars: readonly ReportBar[],
  width: number,
  colours: Paint,
): readonly string[] {
  const rates = cleanRates(bars);
  const cell = Math.min(24, Math.floor((width - INDENT.length - 1) / BARS_PER_ROW) - 3);
  const lines: string[] = [];
  for (const row of rowsOf(form.bars)) {
    const [first] = row;
    if (first === undefined) continue;
    if (first.section !== null && (first.beginsSection || lines.length === 0)) {
      lines.push(colours.bold(`[${first.section}]`));
    }
    const chords = row.map((bar) => toWidth(chordsOf(bar), cell)).join(' | ');
    const shades = row.map((bar) => shade(rates.get(bar.bar) ?? null, cell, colours)).join(' | ');
    lines.push(`${colours.dim(String(first.bar).padStart(4))}  | ${chords} |`);
    lines.push(`${INDENT}| ${shades} |`);
  }
  return lines;
}

/** Rows of four bars; a section starts a row. */
function rowsOf(bars: readonly FormBar[]): readonly (readonly FormBar[])[] {
  const rows: FormBar[][] = [];
  for (const bar of bars) {
    const row = rows.at(-1);
    const joins = row !== undefined && row.length < BARS_PER_ROW && !bar.beginsSection;
    if (joins) row.push(bar);
    else rows.push([bar]);
  }
  return rows;
}

function chordsOf(bar: FormBar): string {
  const words = bar.chords.map(({ symbol, beats }) => ({ text: symbol?.text ?? NO_CHORD, beats }));
  return formatBeats(words, beatsPerBar(bar.meter));
}

function shade(rate: number | null, cell: number, colours: Paint): string {
  if (rate === null) return colours.dim(toWidth('not played', cell));
  const figure = percent(rate).padStart(6);
  const ink = INK[Math.floor(rate * (INK.length - 1) + 1e-9)] ?? INK[0];
  const length = Math.max(0, cell - figure.length - 1);
  return `${tint(rate, colours)(ink.repeat(length))} ${figure}`;
}

/** From blue, few clean, to yellow, all clean: an order that colour-blind eyes see too. */
function tint(rate: number, colours: Paint): (text: string) => string {
  if (rate >= 0.95) return colours.yellow;
  if (rate >= 0.75) return colours.white;
  return rate >= 0.5 ? colours.cyan : colours.blue;
}

function toWidth(text: string, width: number): string {
  return text.length <= width ? text.padEnd(width) : `${text.slice(0, width - 1)}…`;
}
