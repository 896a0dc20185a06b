/** From chart to text: headers, then bars in aligned rows of four, then each plan in the same layout. */

import { formatKey } from '../theory/key.ts';
import { formatFormMark } from './form-marks.ts';
import { formatContent } from './format-content.ts';
import { formatMeter, isSameMeter } from './meter.ts';
import type {
  BarContent,
  Chart,
  EndMark,
  Meter,
  Section,
  StartMark,
  WrittenBar,
  WrittenPlan,
} from './model.ts';
import { firstMeter, formatPickup, PICKUP_HEADER } from './pickup.ts';
import { formatBarSign } from './syntax/tokens.ts';

const BARS_PER_ROW = 4;

/**
 * Writes a chart as tidy text that ends with a line end. The inverse of `parseChart` for every chart that reading
 * gives: `parse(format(chart))` equals `chart`. Comments are not part of a chart and are not written. A header from
 * elsewhere that chart text cannot hold is bent to fit: line ends become spaces, a `#` that would start a comment `♯`.
 */
export function formatChart(chart: Chart): string {
  const blocks = [
    formatHeaders(chart),
    ...formatSections(chart, null),
    ...chart.plans.map((plan) => formatPlan(chart, plan)),
  ];
  return `${blocks.join('\n\n')}\n`;
}

/** One further plan of a chart as it stands in the text: its name, then its bars laid out as the chart's. */
export function formatPlan(chart: Chart, plan: WrittenPlan): string {
  return `plan: ${headerText(plan.name)}\n${formatSections(chart, plan.bars).join('\n\n')}`;
}

function formatHeaders(chart: Chart): string {
  const lines = [
    ['title', chart.title],
    ...(chart.keyGiven ? [['key', formatKey(chart.key)]] : []),
    ...(chart.meterGiven ? [['meter', formatMeter(chart.meter)]] : []),
    ...(chart.tempoBpm === null ? [] : [['tempo', String(chart.tempoBpm)]]),
    ...(chart.pickup === null
      ? []
      : [[PICKUP_HEADER, formatPickup(chart.pickup, firstMeter(chart))]]),
    ...chart.headers.map(({ name, value }) => [name, value]),
  ];
  return lines
    .map(([name = '', value = '']) => `${name}: ${headerText(value)}`.trimEnd())
    .join('\n');
}

/** A value as a header line can hold it. */
export function headerText(text: string): string {
  return text
    .replace(/[\r\n]/gu, ' ')
    .replace(/(^|\s)#/gu, '$1♯')
    .trim();
}

function sectionText(name: string): string {
  return headerText(name.replace(/[\]|]/gu, ' '));
}

/** One block of lines for each section; a plan's contents stand in the chart's own form. */
function formatSections(chart: Chart, plan: readonly BarContent[] | null): readonly string[] {
  let index = 0;
  let meter = chart.meter;
  return chart.sections.map((section) => {
    const bars = section.bars.map((bar) => ({ ...bar, content: plan?.[index++] ?? bar.content }));
    const lines = formatSection({ ...section, bars }, meter);
    meter = bars.at(-1)?.meter ?? meter;
    return lines.join('\n');
  });
}

function formatSection(section: Section, meterBefore: Meter): readonly string[] {
  const rows = splitRows(section.bars, meterBefore);
  const cells = rows.map((row) => rowCells(row.bars));
  const widths = columnWidths(cells);
  const lines = rows.flatMap((row, index) => {
    const line = (cells[index] ?? [])
      .map((cell, column) => cell.padEnd(widths[column] ?? 0))
      .join(' ')
      .trimEnd();
    return row.meterChange === null ? [line] : [`(${formatMeter(row.meterChange)})`, line];
  });
  return section.name === null ? lines : [`[${sectionText(section.name)}]`, ...lines];
}

interface Row {
  /** A meter change that stands above the row, or null. */
  readonly meterChange: Meter | null;
  readonly bars: readonly WrittenBar[];
}

/** Rows of up to four bars; a change of meter starts a new row. */
function splitRows(bars: readonly WrittenBar[], meterBefore: Meter): readonly Row[] {
  const rows: { meterChange: Meter | null; bars: WrittenBar[] }[] = [];
  let meter = meterBefore;
  for (const bar of bars) {
    const changed = !isSameMeter(bar.meter, meter);
    const row = rows.at(-1);
    if (row === undefined || changed || row.bars.length === BARS_PER_ROW) {
      rows.push({ meterChange: changed ? bar.meter : null, bars: [bar] });
    } else row.bars.push(bar);
    meter = bar.meter;
  }
  return rows;
}

/** Bar lines and bars of a row, alternating, a bar line at both ends. */
function rowCells(bars: readonly WrittenBar[]): readonly string[] {
  return [
    ...bars.flatMap((bar, index) => [barLine(bars[index - 1], bar), formatContent(bar)]),
    barLine(bars.at(-1), undefined),
  ];
}

/** One bar line, or where a mark of the form stands there, one on each side of it. */
function barLine(before: WrittenBar | undefined, after: WrittenBar | undefined): string {
  const end = {
    repeatEnd: before?.repeatEnd ?? false,
    double: before?.doubleAfter ?? false,
  };
  const start = { repeatStart: after?.repeatStart ?? false, endings: after?.endings ?? [] };
  const marks = [before?.endMark ?? null, after?.startMark ?? null].flatMap((mark) =>
    mark === null ? [] : [`(${markName(mark)})`],
  );
  if (marks.length === 0) return formatBarSign({ ...end, ...start });
  return [
    formatBarSign({ ...end, repeatStart: false, endings: [] }),
    ...marks,
    formatBarSign({ repeatEnd: false, double: false, ...start }),
  ].join(' ');
}

function markName(mark: StartMark | EndMark): string {
  if (mark === 'segno' || mark === 'coda') return formatFormMark({ kind: mark });
  return formatFormMark(mark.kind === 'toCoda' ? { kind: 'coda' } : mark);
}

function columnWidths(rows: readonly (readonly string[])[]): readonly number[] {
  const widths: number[] = [];
  for (const row of rows) {
    for (const [column, cell] of row.entries()) {
      widths[column] = Math.max(widths[column] ?? 0, cell.length);
    }
  }
  return widths;
}
