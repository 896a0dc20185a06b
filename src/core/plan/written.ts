/** A chart's written bars as one row, whatever sections they stand in, and a plan's contents laid over them. */

import {
  type BarContent,
  type Chart,
  formatContent,
  type WrittenBar,
  type WrittenChord,
} from '../chart/index.ts';
import { PLAIN } from '../words.ts';

/** A bar that says nothing of its own; one object, so that untouched bars are known by identity. */
const SAME: BarContent = { kind: 'same' };

/** The written bars in order. */
export function writtenBars(chart: Chart): readonly WrittenBar[] {
  return chart.sections.flatMap(({ bars }) => bars);
}

/** What stands in each written bar of a plan, as written; a plan the chart does not have keeps every bar. */
export function planContents(chart: Chart, plan: string): readonly BarContent[] {
  const plain = writtenBars(chart).map(({ content }) => content);
  if (plan === PLAIN) return plain;
  const bars = chart.plans.find(({ name }) => name === plan)?.bars;
  return plain.map((_, index) => bars?.[index] ?? SAME);
}

/** The chords of each written bar of a plan, `%` resolved: that of `plain` to the bar before, that of a plan to `plain`. */
export function planChords(chart: Chart, plan: string): readonly (readonly WrittenChord[])[] {
  let before: readonly WrittenChord[] = [];
  const plain = writtenBars(chart).map(({ content }) => {
    if (content.kind === 'chords') before = content.chords;
    return before;
  });
  return planContents(chart, plan).map((content, index) =>
    content.kind === 'chords' ? content.chords : (plain[index] ?? []),
  );
}

/**
 * The chart with other contents in one of its plans, which is added at the end if there is none of that name. A bar of
 * a plan that now says what `plain` says there is written as `%`; bars that are the same as before are not touched, and
 * where all are, the chart comes back as it was.
 */
export function withContents(chart: Chart, plan: string, contents: readonly BarContent[]): Chart {
  const present = planContents(chart, plan);
  if (present.every((content, index) => content === contents[index])) return chart;
  if (plan === PLAIN) return withPlain(chart, contents);
  const plainChords = planChords(chart, PLAIN);
  const bars = writtenBars(chart).map(({ meter }, index): BarContent => {
    const content = contents[index] ?? SAME;
    if (content === present[index]) return content;
    const plain = formatContent({ content: chordsOf(plainChords[index] ?? []), meter });
    return formatContent({ content, meter }) === plain ? SAME : content;
  });
  const isThere = chart.plans.some(({ name }) => name === plan);
  const plans = isThere
    ? chart.plans.map((one) => (one.name === plan ? { ...one, bars } : one))
    : [...chart.plans, { name: plan, bars }];
  return { ...chart, plans };
}

function withPlain(chart: Chart, contents: readonly BarContent[]): Chart {
  let index = 0;
  return {
    ...chart,
    sections: chart.sections.map((section) => ({
      ...section,
      bars: section.bars.map((bar) => ({ ...bar, content: contents[index++] ?? bar.content })),
    })),
  };
}

/** Chords as what stands in a bar. */
export function chordsOf(chords: readonly WrittenChord[]): BarContent {
  return { kind: 'chords', chords };
}
