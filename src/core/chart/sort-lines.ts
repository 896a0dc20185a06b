/** The lines of a chart sorted into headers, the bars of `plain`, and the bars of each further plan. */

import { nearestWordAnyCase } from '../nearest-word.ts';
import { PLAIN } from '../words.ts';
import { KNOWN_HEADERS, type RawHeader, readHeaderLine } from './headers.ts';
import type { SourceLine } from './lines.ts';
import { type ChartProblem, chartProblem } from './problems.ts';

/** One plan as it stands in the text; the place is that of its name. */
export interface PlanPart {
  readonly name: string;
  readonly line: number;
  readonly column: number;
  readonly lines: SourceLine[];
}

export interface Parts {
  readonly headers: readonly RawHeader[];
  readonly plain: readonly SourceLine[];
  readonly plans: readonly PlanPart[];
  readonly problems: readonly ChartProblem[];
}

/** Headers stand above the first bar; `plan:` starts a plan; everything else belongs to the block it stands in. */
export function sortLines(lines: readonly SourceLine[]): Parts {
  const headers: RawHeader[] = [];
  const plain: SourceLine[] = [];
  const plans: PlanPart[] = [];
  const problems: ChartProblem[] = [];
  const planLines = new Map<string, number>();
  for (const line of lines) {
    if (line.text.trim() === '') continue;
    const header = readHeaderLine(line);
    const inBody = plain.length > 0 || plans.length > 0;
    if (header?.name === 'plan') {
      problems.push(...checkPlanName(header, planLines));
      plans.push({ name: header.value, line: line.line, column: header.valueColumn, lines: [] });
    } else if (header !== null && !inBody) headers.push(header);
    else if (header !== null) problems.push(lateHeader(header));
    else if (isBarsLine(line.text)) (plans.at(-1)?.lines ?? plain).push(line);
    else problems.push(unknownLine(line));
  }
  return { headers, plain, plans, problems };
}

function isBarsLine(text: string): boolean {
  return /^\s*[[(:|]/u.test(text) || text.includes('|');
}

/** `planLines` has the line of each name so far, in lower case; the new one is added. */
function checkPlanName(header: RawHeader, planLines: Map<string, number>): readonly ChartProblem[] {
  const place = { line: header.line, column: header.valueColumn };
  const name = header.value.toLowerCase();
  if (name === '') {
    const expected = 'a name for the plan, such as plan: side door';
    return [chartProblem('emptyPlanName', place, 'plan:', expected)];
  }
  if (name === PLAIN) {
    const expected = `a name other than ${PLAIN}, which is the chart itself`;
    return [chartProblem('reservedPlanName', place, header.value, expected)];
  }
  const sameLine = planLines.get(name);
  planLines.set(name, sameLine ?? header.line);
  if (sameLine === undefined) return [];
  const expected = `a name of its own; line ${sameLine} has this one`;
  return [chartProblem('duplicatePlan', place, header.value, expected)];
}

function lateHeader(header: RawHeader): ChartProblem {
  const expected = 'header lines above the first section or bar';
  return chartProblem('headerAfterBars', header, `${header.name}: ${header.value}`, expected);
}

/** A known header without its colon is the usual slip. */
function unknownLine(line: SourceLine): ChartProblem {
  const text = line.text.trim();
  const column = line.text.length - line.text.trimStart().length + 1;
  const expected = 'a header such as tempo: 66, a section such as [A], or bars between |';
  const [word = '', ...rest] = text.slice(0, 80).split(/\s+/u);
  const name = nearestWordAnyCase(word, KNOWN_HEADERS);
  const suggestion = name === null || rest.length === 0 ? null : `${name}: ${rest.join(' ')}`;
  return chartProblem('unknownLine', { line: line.line, column }, text, expected, suggestion);
}
