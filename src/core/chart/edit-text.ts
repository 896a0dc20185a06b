/**
 * Small changes to chart text that leave the rest as it was typed: comments, the layout of lines, even what cannot be
 * read yet. Editors work on these; `formatChart` lays a whole chart out afresh.
 */

import { formatKey } from '../theory/key.ts';
import { PLAIN } from '../words.ts';
import { readBlock } from './block.ts';
import { formatChart, formatPlan, headerText } from './format-chart.ts';
import { formatContent } from './format-content.ts';
import { splitLines, withoutByteOrderMark } from './lines.ts';
import type { BarContent, Chart, Meter } from './model.ts';
import { parseChart } from './parse-chart.ts';
import { firstMeter, formatPickup, PICKUP_HEADER } from './pickup.ts';
import { sortLines } from './sort-lines.ts';

/** Characters from `from` up to, but not including, `to` give way to `insert`; offsets count UTF-16 units from 0. */
export interface TextEdit {
  readonly from: number;
  readonly to: number;
  readonly insert: string;
}

/** One bar as it stands in the text, between its bar lines, as typed. */
export interface BarText {
  readonly from: number;
  readonly to: number;
  readonly text: string;
  /** Chords, `/`, `%`, `N.C.` and palettes in order, with their own offsets. */
  readonly words: readonly BarWord[];
  /** Of the section that begins with this bar, else null. */
  readonly section: string | null;
}

export interface BarWord {
  readonly kind: 'word' | 'palette';
  readonly from: number;
  readonly to: number;
  readonly text: string;
}

export interface PlanText {
  /** `plain` for the chart itself. */
  readonly name: string;
  readonly bars: readonly BarText[];
}

/** Every bar of every plan with its place, also where the text has problems: what can be told of it. */
export function readBarTexts(text: string): readonly PlanText[] {
  const source = withoutByteOrderMark(text);
  const skipped = text.length - source.length;
  const starts = lineStarts(source);
  const offsetOf = (line: number, column: number): number =>
    skipped + (starts[line - 1] ?? 0) + column - 1;
  const { plain, plans } = sortLines(splitLines(source));
  return [{ name: PLAIN, lines: plain }, ...plans].map(({ name, lines }) => ({
    name,
    bars: readBlock(lines).sections.flatMap((section) =>
      section.bars.map(({ tokens, place }, index) => {
        const words = tokens.map(({ kind, line, column, text: word }) => {
          const from = offsetOf(line, column);
          return { kind, from, to: from + word.length, text: word };
        });
        const from = words[0]?.from ?? offsetOf(place.line, place.column);
        const to = words.at(-1)?.to ?? from;
        return {
          from,
          to,
          text: text.slice(from, to),
          words,
          section: index === 0 ? section.name : null,
        };
      }),
    ),
  }));
}

/** Offset of a place in text, both counted as problems count them; the end of the text for a place beyond it. */
export function offsetOfPlace(
  text: string,
  { line, column }: { readonly line: number; readonly column: number },
): number {
  const source = withoutByteOrderMark(text);
  const start = lineStarts(source)[line - 1] ?? source.length;
  return Math.min(text.length, text.length - source.length + start + column - 1);
}

function lineStarts(text: string): readonly number[] {
  const starts = [0];
  for (const { index, 0: end } of text.matchAll(/\r\n|\n|\r/gu)) starts.push(index + end.length);
  return starts;
}

/** Applies edits that do not overlap, in any order. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  const inOrder = [...edits].sort((one, other) => one.from - other.from);
  let edited = '';
  let at = 0;
  for (const { from, to, insert } of inOrder) {
    edited += text.slice(at, from) + insert;
    at = to;
  }
  return edited + text.slice(at);
}

/** What gives a header of this name another value, or adds the header above the others. */
export function editHeader(text: string, name: string, value: string): TextEdit {
  const source = withoutByteOrderMark(text);
  const skipped = text.length - source.length;
  const written = sortLines(splitLines(source)).headers.find((header) => header.name === name);
  if (written === undefined) {
    return { from: skipped, to: skipped, insert: `${name}: ${headerText(value)}\n` };
  }
  const from = offsetOfPlace(text, { line: written.line, column: written.valueColumn });
  return { from, to: from + written.value.length, insert: headerText(value) };
}

/** What the header of the pickup says, as typed, and where; null where there is none. */
export function readPickupText(text: string): Pick<BarText, 'from' | 'to' | 'text'> | null {
  const { headers } = sortLines(splitLines(withoutByteOrderMark(text)));
  const header = headers.find(({ name }) => name === PICKUP_HEADER);
  if (header === undefined) return null;
  const from = offsetOfPlace(text, { line: header.line, column: header.valueColumn });
  return { from, to: from + header.value.length, text: header.value };
}

/** What gives the chart a pickup, another one, or none (empty): a new header stands under that of the meter. */
export function pickupEdit(text: string, value: string): TextEdit {
  const written = readPickupText(text);
  const insert = headerText(value);
  if (written !== null) {
    if (insert !== '') return { from: written.from, to: written.to, insert };
    const from = text.lastIndexOf('\n', written.from - 1) + 1;
    const end = text.indexOf('\n', written.to);
    return { from, to: end < 0 ? text.length : end + 1, insert: '' };
  }
  if (insert === '') return { from: 0, to: 0, insert: '' };
  const { headers } = sortLines(splitLines(withoutByteOrderMark(text)));
  const meter = headers.find(({ name }) => name === 'meter');
  if (meter === undefined) return editHeader(text, PICKUP_HEADER, value);
  const next = text.indexOf('\n', offsetOfPlace(text, meter));
  return next < 0
    ? { from: text.length, to: text.length, insert: `\n${PICKUP_HEADER}: ${insert}` }
    : { from: next + 1, to: next + 1, insert: `${PICKUP_HEADER}: ${insert}\n` };
}

/**
 * What makes the text that of another chart, changing as little as can be: bars whose content differs, the key, the pickup, plans
 * that came or went at the end. Where more than that differs, or the text cannot be read, the chart is laid out afresh.
 */
export function editsTowards(text: string, chart: Chart): readonly TextEdit[] {
  const edits = smallEdits(text, chart);
  const reread = edits === null ? null : parseChart(applyEdits(text, edits));
  const arrived = reread?.ok === true && formatChart(reread.value) === formatChart(chart);
  if (edits !== null && arrived) return edits;
  return [{ from: 0, to: text.length, insert: formatChart(chart) }];
}

function smallEdits(text: string, chart: Chart): readonly TextEdit[] | null {
  const parsed = parseChart(text);
  if (!parsed.ok) return null;
  const now = parsed.value;
  const places = readBarTexts(text);
  const meters = chart.sections.flatMap(({ bars }) => bars.map(({ meter }) => meter));
  const edits: TextEdit[] = [];
  if (formatKey(now.key) !== formatKey(chart.key)) {
    edits.push(editHeader(text, 'key', formatKey(chart.key)));
  }
  const pickupOf = (one: Chart): string =>
    one.pickup === null ? '' : formatPickup(one.pickup, firstMeter(one));
  if (pickupOf(now) !== pickupOf(chart)) edits.push(pickupEdit(text, pickupOf(chart)));
  const barsOf = ({ sections }: Chart): readonly BarContent[] =>
    sections.flatMap(({ bars }) => bars.map(({ content }) => content));
  const before = [barsOf(now), ...now.plans.map(({ bars }) => bars)];
  const after = [barsOf(chart), ...chart.plans.map(({ bars }) => bars)];
  before.forEach((bars, plan) => {
    edits.push(...contentEdits(bars, after[plan] ?? [], meters, places[plan]?.bars ?? []));
  });
  const added = chart.plans.slice(now.plans.length).map((plan) => formatPlan(chart, plan));
  if (added.length > 0) {
    const end = text.trimEnd().length;
    edits.push({ from: end, to: text.length, insert: `\n\n${added.join('\n\n')}\n` });
  }
  return edits;
}

function contentEdits(
  before: readonly BarContent[],
  after: readonly BarContent[],
  meters: readonly Meter[],
  places: readonly BarText[],
): readonly TextEdit[] {
  return after.flatMap((content, index) => {
    const [meter, place, old] = [meters[index], places[index], before[index]];
    if (meter === undefined || place === undefined || old === undefined) return [];
    const insert = formatContent({ content, meter });
    return insert === formatContent({ content: old, meter })
      ? []
      : [{ from: place.from, to: place.to, insert }];
  });
}
