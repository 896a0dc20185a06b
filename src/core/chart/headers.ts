/** Header lines: what the known ones say. Which line is one is in `syntax/lines.ts`. */

import { nearestWordAnyCase } from '../nearest-word.ts';
import { failure, type Outcome, success } from '../problem.ts';
import type { Key } from '../theory/key.ts';
import { parseKeyText } from './key-text.ts';
import { formatMeter, METERS, nearestMeter, parseMeter } from './meter.ts';
import type { HeaderLine, Meter } from './model.ts';
import {
  type ChartProblem,
  type ChartProblemCode,
  chartProblem,
  type QuickFix,
  replace,
} from './problems.ts';
import type { HeaderNode } from './syntax/lines.ts';

/** What the headers of a chart say; null where a header is missing or was not understood. */
export interface HeadersResult {
  readonly title: string | null;
  readonly key: Key | null;
  readonly meter: Meter | null;
  /** Whether there is a line for the meter, understood or not. */
  readonly meterGiven: boolean;
  readonly tempoBpm: number | null;
  /** The line of the pickup, which can be read once the meter of bar 1 is known. */
  readonly pickup: HeaderNode | null;
  readonly others: readonly HeaderLine[];
  readonly problems: readonly ChartProblem[];
}

/** Headers that mean something to the program and may stand once. */
const SINGLE = ['title', 'key', 'meter', 'tempo', 'pickup'] as const;
type SingleName = (typeof SINGLE)[number];

/** Slowest and fastest tempo a chart may name, in beats per minute. Own rule. */
export const TEMPO_RANGE_BPM = { lowest: 10, highest: 400 } as const;

/** The known headers understood, the others kept in order; the title must be there. */
export function readHeaders(headers: readonly HeaderNode[]): HeadersResult {
  const problems: ChartProblem[] = [];
  const singles = new Map<SingleName, HeaderNode>();
  const others: HeaderNode[] = [];
  for (const header of headers) {
    const name = SINGLE.find((single) => single === header.name);
    if (name === undefined) others.push(header);
    else if (singles.has(name)) problems.push(duplicate(header, name));
    else singles.set(name, header);
  }
  const read = <Value>(
    name: SingleName,
    reader: (header: HeaderNode) => Outcome<Value, ChartProblem>,
  ): Value | null => {
    const header = singles.get(name);
    if (header === undefined) {
      problems.push(...misspelt(name, others));
      return null;
    }
    const outcome = header.value === '' ? failure(empty(header, name)) : reader(header);
    if (outcome.ok) return outcome.value;
    problems.push(...outcome.problems);
    return null;
  };
  return {
    title: read('title', (header) => success(header.value)),
    key: read('key', readKey),
    meter: read('meter', readMeter),
    meterGiven: singles.has('meter'),
    tempoBpm: read('tempo', readTempo),
    pickup: read('pickup', success),
    others: others.map(({ name, value }) => ({ name, value })),
    problems,
  };
}

function valueProblem(
  header: HeaderNode,
  code: ChartProblemCode,
  expected: string,
  suggestion: string | null,
): ChartProblem {
  return chartProblem(
    code,
    valuePlace(header),
    header.value,
    expected,
    valueFix(header, suggestion),
  );
}

/** Where the value of a header stands. */
export function valuePlace({ line, valueColumn }: HeaderNode): { line: number; column: number } {
  return { line, column: valueColumn };
}

/** The fix that gives a header another value. */
export function valueFix(header: HeaderNode, value: string | null): QuickFix | null {
  return value === null ? null : replace({ from: header.valueFrom, text: header.value }, value);
}

function empty(header: HeaderNode, name: SingleName): ChartProblem {
  return chartProblem('emptyHeader', valuePlace(header), `${name}:`, EXPECTED[name]);
}

function duplicate(header: HeaderNode, name: SingleName): ChartProblem {
  const read = `${name}: ${header.value}`;
  return chartProblem('duplicateHeader', header, read, `one ${name} line only`);
}

const EXPECTED: Readonly<Record<SingleName, string>> = {
  title: 'a line such as title: Lantern Walk',
  key: 'a line such as key: Bb or key: F#m',
  meter: 'a line such as meter: 4/4',
  tempo: 'a line such as tempo: 66',
  pickup: 'a line such as pickup: 1 or pickup: 3/8',
};

/** Whether a value makes sense under a header: without it a line is no slip for a header that may be missing. */
const MAKES_SENSE: Readonly<Record<SingleName, (value: string) => boolean>> = {
  title: (value) => value !== '',
  key: (value) => parseKeyText(value).ok,
  meter: (value) => parseMeter(value) !== null,
  tempo: (value) => parseTempo(value) !== null,
  pickup: () => false,
};

/** The header is missing: perhaps it stands there under a misspelt name. A chart may lack all but its title. */
function misspelt(name: SingleName, others: readonly HeaderNode[]): readonly ChartProblem[] {
  const slip = others.find(
    (header) => nearestWordAnyCase(header.name, [name]) !== null && MAKES_SENSE[name](header.value),
  );
  if (slip !== undefined) {
    const fix = {
      ...{ from: slip.from, to: slip.to, insert: name, words: `${name}: ${slip.value}` },
    };
    return [chartProblem('misspeltHeader', slip, slip.name, EXPECTED[name], fix)];
  }
  if (name !== 'title') return [];
  return [chartProblem('missingTitle', { line: 1, column: 1 }, 'no title', EXPECTED.title)];
}

/** Problem: `unknownKey`. */
function readKey(header: HeaderNode): Outcome<Key, ChartProblem> {
  const key = parseKeyText(header.value);
  if (key.ok) return key;
  return failure(
    ...key.problems.map(({ expected, suggestion }) =>
      valueProblem(header, 'unknownKey', expected, suggestion),
    ),
  );
}

/** Problem: `unknownMeter`. */
function readMeter(header: HeaderNode): Outcome<Meter, ChartProblem> {
  const meter = parseMeter(header.value);
  if (meter !== null) return success(meter);
  const expected = `one of ${METERS.map(formatMeter).join(', ')}`;
  return failure(valueProblem(header, 'unknownMeter', expected, nearestMeter(header.value)));
}

/** Beats per minute, whole or with a decimal point; null for anything else, or out of range. */
function parseTempo(text: string): number | null {
  const { lowest, highest } = TEMPO_RANGE_BPM;
  const tempo = /^[0-9]{1,4}(?:\.[0-9]{1,4})?$/u.test(text) ? Number(text) : null;
  return tempo !== null && tempo >= lowest && tempo <= highest ? tempo : null;
}

/** Problem: `unknownTempo`, for words around a number with the number alone as the suggestion. */
function readTempo(header: HeaderNode): Outcome<number, ChartProblem> {
  const { lowest, highest } = TEMPO_RANGE_BPM;
  const tempo = parseTempo(header.value);
  if (tempo !== null) return success(tempo);
  const expected = `beats per minute from ${lowest} to ${highest}, the number alone`;
  const digits = /[0-9]{1,4}/u.exec(header.value)?.[0] ?? '';
  const isNumber = /^[0-9]+(?:\.[0-9]+)?$/u.test(header.value);
  const suggestion = !isNumber && parseTempo(digits) !== null ? String(Number(digits)) : null;
  return failure(valueProblem(header, 'unknownTempo', expected, suggestion));
}
