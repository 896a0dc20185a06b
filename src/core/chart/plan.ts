/** A further plan laid against the form of `plain`: as many bars, and no form of its own. */

import type { TextPlace } from '../problem.ts';
import { formatFormMark, isSameMark } from './form-marks.ts';
import { formatMeter, isSameMeter } from './meter.ts';
import type { Meter } from './model.ts';
import { type ChartProblem, chartProblem, shorten } from './problems.ts';
import type { BarNode, BlockNode, MarkNode } from './syntax/tree.ts';

/** The bars of `plain` as a plan must match them: parallel arrays. */
export interface PlainForm {
  readonly block: BlockNode;
  /** Meter in force in each bar; null where it was not understood. */
  readonly meters: readonly (Meter | null)[];
}

/**
 * Checks what a plan writes of the form against the chart's. Section names, repeat signs and meter changes may be
 * left out; those that are written must stand where the chart has them.
 * Problems: `planLength` at the plan's name, or `planSection`, `planRepeat`, `planMark`, `planMeter` at the sign.
 */
export function checkPlanForm(
  plan: BlockNode,
  plain: PlainForm,
  name: TextPlace & { readonly name: string },
): readonly ChartProblem[] {
  const { bars } = plan;
  const plainBars = plain.block.bars;
  if (!plan.countable || !plain.block.countable) return [];
  if (bars.length !== plainBars.length) {
    const read = `${count(bars.length)} in plan ${name.name}`;
    const expected = `${count(plainBars.length)}, as in the chart`;
    return [chartProblem('planLength', name, read, expected)];
  }
  return [
    ...checkSections(plan, plain.block),
    ...checkMarks(plan.marks, plain.block.marks),
    ...bars.flatMap((bar, index) => checkSigns(bar, plainBars[index], plain.meters[index])),
  ];
}

function count(bars: number): string {
  return bars === 1 ? '1 bar' : `${bars} bars`;
}

function checkSections(plan: BlockNode, plain: BlockNode): readonly ChartProblem[] {
  const starts = sectionStarts(plain);
  return sectionStartList(plan).flatMap(({ name, place, bar }) => {
    if (name === null || starts.get(bar) === name) return [];
    const there = starts.get(bar) ?? null;
    const expected =
      there === null
        ? `no section at bar ${bar} of the chart`
        : `[${shorten(there)}], as at bar ${bar} of the chart`;
    return [chartProblem('planSection', place, `[${name}] at bar ${bar}`, expected)];
  });
}

function sectionStarts(block: BlockNode): ReadonlyMap<number, string | null> {
  return new Map(sectionStartList(block).map(({ bar, name }) => [bar, name]));
}

function sectionStartList(
  block: BlockNode,
): readonly { readonly name: string | null; readonly place: TextPlace; readonly bar: number }[] {
  let bar = 1;
  return block.sections.map(({ name, place, bars }) => {
    const start = { name, place, bar };
    bar += bars.length;
    return start;
  });
}

function checkSigns(
  bar: BarNode,
  plain: BarNode | undefined,
  meter: Meter | null | undefined,
): readonly ChartProblem[] {
  const problems: ChartProblem[] = [];
  const expected = 'the repeat signs of the chart, or none';
  const compare = (written: TextPlace | null, own: unknown, sign: string) => {
    if (written !== null && own === null)
      problems.push(chartProblem('planRepeat', written, sign, expected));
  };
  compare(bar.repeatStart, plain?.repeatStart ?? null, '|:');
  compare(bar.repeatEnd, plain?.repeatEnd ?? null, ':|');
  if (bar.ending !== null && bar.ending.text !== plain?.ending?.text) {
    problems.push(chartProblem('planRepeat', bar.ending, bar.ending.text, expected));
  }
  problems.push(...checkMarks(bar.marks, plain?.marks ?? []));
  const change = bar.meterChange;
  if (change !== null && change.meter !== null && meter && !isSameMeter(change.meter, meter)) {
    const read = `(${formatMeter(change.meter)})`;
    const wanted = `(${formatMeter(meter)}), the chart's meter in this bar`;
    problems.push(chartProblem('planMeter', change.place, read, wanted));
  }
  return problems;
}

function checkMarks(
  marks: readonly MarkNode[],
  plain: readonly MarkNode[],
): readonly ChartProblem[] {
  return marks.flatMap(({ mark, token }) => {
    if (plain.some((other) => isSameMark(other.mark, mark))) return [];
    const expected = 'the marks of the chart, or none';
    return [chartProblem('planMark', token, `(${formatFormMark(mark)})`, expected)];
  });
}
