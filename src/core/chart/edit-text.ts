/**
 * Small changes to chart text that leave the rest as it was typed: comments, the layout of lines, even what cannot be
 * read yet. Editors work on these; `formatChart` lays a whole chart out afresh.
 */

import { formatKey } from '../theory/key.ts';
import { PLAIN } from '../words.ts';
import { formatChart, formatPlan, headerText } from './format-chart.ts';
import { formatContent } from './format-content.ts';
import type { BarContent, Chart, Meter } from './model.ts';
import { parseChart, readChart } from './parse-chart.ts';
import { firstMeter, formatPickup, PICKUP_HEADER } from './pickup.ts';
import type { HeaderNode } from './syntax/lines.ts';
import { type BlockNode, type ChartTree, readTree } from './syntax/tree.ts';
import { applyEdits, type TextEdit } from './text-edit.ts';

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
export function barTexts({ text, plain, plans }: ChartTree): readonly PlanText[] {
  const blocks = [
    { name: PLAIN, block: plain },
    ...plans.map((plan) => ({ name: plan.header.value, block: plan })),
  ];
  return blocks.map(({ name, block }) => ({ name, bars: textsOf(text, block) }));
}

function textsOf(text: string, { sections }: BlockNode): readonly BarText[] {
  return sections.flatMap((section) =>
    section.bars.map(({ tokens, from, to }, index) => ({
      ...{ from, to, text: text.slice(from, to) },
      words: tokens.map(({ kind, from: at, text: word }) => ({
        ...{ kind, from: at, to: at + word.length, text: word },
      })),
      section: index === 0 ? section.name : null,
    })),
  );
}

/** Offset of a place in text, both counted as problems count them; the end of the text for a place beyond it. */
export function offsetOfPlace(
  { text, lines }: ChartTree,
  { line, column }: { readonly line: number; readonly column: number },
): number {
  const [first] = lines[line - 1]?.tokens ?? [];
  const mark = first?.kind === 'byteOrderMark' ? first.text.length : 0;
  const from = lines[line - 1]?.from ?? text.length;
  return Math.min(text.length, from + mark + column - 1);
}

/** What gives a header of this name another value, or adds the header above the others. */
export function editHeader(text: string, name: string, value: string): TextEdit {
  return headerEdit(readTree(text), name, value);
}

function headerEdit(tree: ChartTree, name: string, value: string): TextEdit {
  const written = tree.headers.find((header) => header.name === name);
  if (written !== undefined) return valueEdit(written, headerText(value));
  const from = offsetOfPlace(tree, { line: 1, column: 1 });
  return { from, to: from, insert: `${name}: ${headerText(value)}\n` };
}

function valueEdit({ valueFrom, value }: HeaderNode, insert: string): TextEdit {
  return { from: valueFrom, to: valueFrom + value.length, insert };
}

/** A header under another one, or above all where that one is missing. */
function headerBelow(tree: ChartTree, above: string, name: string, value: string): TextEdit {
  const source = tree.headers.find((header) => header.name === above)?.source;
  if (source === undefined) return headerEdit(tree, name, value);
  const end = source.tokens.at(-1);
  const line = `${name}: ${headerText(value)}`;
  return end?.kind === 'lineEnd'
    ? { from: source.to, to: source.to, insert: line + end.text }
    : { from: source.to, to: source.to, insert: `\n${line}` };
}

/** What names the key of a chart that names none, below its title; of another one, what gives it another key. */
export function keyEdit(text: string, key: string): TextEdit {
  const tree = readTree(text);
  return tree.headers.some(({ name }) => name === 'key')
    ? headerEdit(tree, 'key', key)
    : headerBelow(tree, 'title', 'key', key);
}

/** What the header of the pickup says, as typed, and where; null where there is none. */
export function pickupText({ headers }: ChartTree): Pick<BarText, 'from' | 'to' | 'text'> | null {
  const header = headers.find(({ name }) => name === PICKUP_HEADER);
  if (header === undefined) return null;
  const { valueFrom: from, value } = header;
  return { from, to: from + value.length, text: value };
}

/** What gives the chart a pickup, another one, or none (empty): a new header stands under that of the meter. */
export function pickupEdit(text: string, value: string): TextEdit {
  const tree = readTree(text);
  const header = tree.headers.find(({ name }) => name === PICKUP_HEADER);
  const insert = headerText(value);
  if (header !== undefined) {
    if (insert !== '') return valueEdit(header, insert);
    return { from: header.source.from, to: header.source.to, insert: '' };
  }
  if (insert === '') return { from: 0, to: 0, insert: '' };
  return headerBelow(tree, 'meter', PICKUP_HEADER, value);
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
  const { chart: now, problems, tree } = readChart(text);
  if (now === null || problems.length > 0) return null;
  const places = barTexts(tree);
  const meters = chart.sections.flatMap(({ bars }) => bars.map(({ meter }) => meter));
  const edits: TextEdit[] = [];
  if (chart.keyGiven && !(now.keyGiven && formatKey(now.key) === formatKey(chart.key))) {
    edits.push(keyEdit(text, formatKey(chart.key)));
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
