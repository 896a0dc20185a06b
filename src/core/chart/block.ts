/**
 * The bars of one plan as they stand in the text, before anything inside them is understood: which tokens lie
 * between which bar lines, in which section, under which repeat signs.
 */

import type { TextPlace } from '../problem.ts';
import { type ContentToken, type LineItem, readLineItems } from './line-items.ts';
import type { SourceLine } from './lines.ts';
import { formatMeter } from './meter.ts';
import type { Meter } from './model.ts';
import { addProblems, type ChartProblem, chartProblem } from './problems.ts';
import type { BarSign } from './tokens.ts';

export interface RawBar {
  /** The first thing that stands in it, or the bar line that opens it. */
  readonly place: TextPlace;
  readonly tokens: readonly ContentToken[];
  /** Where `|:` stands, and so on; null where there is none. */
  readonly repeatStart: TextPlace | null;
  readonly repeatEnd: TextPlace | null;
  readonly ending: { readonly number: number; readonly place: TextPlace } | null;
  readonly doubleAfter: boolean;
  /** A meter change written just before this bar. */
  readonly meterChange: { readonly meter: Meter | null; readonly place: TextPlace } | null;
}

export interface RawSection {
  readonly name: string | null;
  readonly place: TextPlace;
  readonly bars: readonly RawBar[];
}

export interface RawBlock {
  readonly sections: readonly RawSection[];
  /** False when a bar line is wrong or missing, so that counting the bars would only lead astray. */
  readonly countable: boolean;
  readonly problems: readonly ChartProblem[];
}

type Mutable<Type> = { -readonly [Name in keyof Type]: Type[Name] };
type OpenBar = Mutable<RawBar>;

/** What the bar lines and meter changes so far say about the bar that comes next. */
type NextBar = Pick<OpenBar, 'repeatStart' | 'ending' | 'meterChange'>;

/** Where the walk over the items stands; it lives inside one call of `readBlock`. */
interface Walk {
  readonly sections: { name: string | null; place: TextPlace; bars: OpenBar[] }[];
  readonly problems: ChartProblem[];
  next: NextBar;
  last: OpenBar | null;
}

/**
 * Reads the lines of one block. The bar line that ends a line and the one that starts the next count as one: what
 * either says holds. Problems: of each line, and sections, signs and meters that no bar follows.
 */
export function readBlock(lines: readonly SourceLine[]): RawBlock {
  const walk: Walk = { sections: [], problems: [], next: freshNext(), last: null };
  let countable = true;
  for (const line of lines) {
    const read = readLineItems(line);
    addProblems(walk.problems, read.problems);
    countable &&= read.countable;
    for (const item of read.items) addItem(walk, item);
  }
  walk.problems.push(...emptySection(walk), ...leftOver(walk.next));
  return { sections: walk.sections, countable, problems: walk.problems };
}

function freshNext(): NextBar {
  return { repeatStart: null, ending: null, meterChange: null };
}

function addItem(walk: Walk, item: LineItem): void {
  switch (item.kind) {
    case 'section':
      walk.problems.push(...emptySection(walk));
      walk.sections.push({ name: item.name, place: item.place, bars: [] });
      break;
    case 'barLine':
      addSign(walk, item.sign, item.place);
      break;
    case 'meter':
      walk.next.meterChange = { meter: item.meter, place: item.place };
      break;
    case 'bar':
      addBar(walk, item.tokens, item.place);
  }
}

function addBar(walk: Walk, tokens: readonly ContentToken[], place: TextPlace): void {
  const bar = { place, tokens, ...walk.next, repeatEnd: null, doubleAfter: false };
  if (walk.sections.length === 0) walk.sections.push({ name: null, place, bars: [] });
  walk.sections.at(-1)?.bars.push(bar);
  walk.last = bar;
  walk.next = freshNext();
}

/** A bar line speaks of the bar before it, which may stand in an earlier section, and of the bar after it. */
function addSign(walk: Walk, sign: BarSign, place: TextPlace): void {
  const before = walk.last;
  if (before === null && sign.repeatEnd) {
    const expected = 'bars before the end of a repeat';
    walk.problems.push(chartProblem('repeatNotOpened', place, ':|', expected));
  }
  if (before !== null) {
    if (sign.repeatEnd) before.repeatEnd = place;
    if (sign.double) before.doubleAfter = true;
  }
  if (sign.repeatStart) walk.next.repeatStart = place;
  if (sign.ending !== null) walk.next.ending = { number: sign.ending, place };
}

function emptySection({ sections }: Walk): readonly ChartProblem[] {
  const open = sections.at(-1);
  if (open === undefined || open.bars.length > 0) return [];
  const expected = 'at least one bar in the section';
  return [chartProblem('emptySection', open.place, `[${open.name ?? ''}]`, expected)];
}

/** Signs after the last bar. */
function leftOver({ repeatStart, ending, meterChange }: NextBar): readonly ChartProblem[] {
  const problems: ChartProblem[] = [];
  if (repeatStart !== null) {
    const expected = 'bars after the start of a repeat, then :|';
    problems.push(chartProblem('repeatNotClosed', repeatStart, '|:', expected));
  }
  if (ending !== null) {
    const expected = `bars after the start of ending ${ending.number}`;
    problems.push(chartProblem('endingOutOfOrder', ending.place, `|${ending.number}`, expected));
  }
  if (meterChange !== null) {
    const { meter, place } = meterChange;
    const read = meter === null ? 'a meter change' : `(${formatMeter(meter)})`;
    problems.push(chartProblem('meterWithoutBar', place, read, 'a bar after the meter change'));
  }
  return problems;
}
