/** Header lines: which line is one, and what the known ones say. */

import { nearestWordAnyCase } from '../nearest-word.ts';
import { failure, type Outcome, success, type TextPlace } from '../problem.ts';
import type { Key } from '../theory/key.ts';
import { parseKeyText } from './key-text.ts';
import type { SourceLine } from './lines.ts';
import { formatMeter, METERS, parseMeter } from './meter.ts';
import type { HeaderLine, Meter } from './model.ts';
import { type ChartProblem, type ChartProblemCode, chartProblem } from './problems.ts';

/** A line `name: value`; a known name is in lower case, others as written. `value` may be empty. */
export interface RawHeader extends TextPlace {
  readonly name: string;
  readonly value: string;
  readonly valueColumn: number;
}

/** What the headers of a chart say; null where a header is missing or was not understood. */
export interface HeadersResult {
  readonly title: string | null;
  readonly key: Key | null;
  readonly meter: Meter | null;
  readonly tempoBpm: number | null;
  /** The line of the pickup, which can be read once the meter of bar 1 is known. */
  readonly pickup: RawHeader | null;
  readonly others: readonly HeaderLine[];
  readonly problems: readonly ChartProblem[];
}

/** Headers that mean something to the program and may stand once. */
const SINGLE = ['title', 'key', 'meter', 'tempo', 'pickup'] as const;
type SingleName = (typeof SINGLE)[number];

/** Every name that means something, or is expected to. */
export const KNOWN_HEADERS: readonly string[] = [...SINGLE, 'composer', 'note', 'plan'];

/** Slowest and fastest tempo a chart may name, in beats per minute. Source: own rule; no metronome goes beyond. */
export const TEMPO_RANGE_BPM = { lowest: 10, highest: 400 } as const;

const NAME = /^\p{L}[\p{L}\p{N} _-]{0,39}$/u;

/** Reads `name: value`; null when the line is no header (bars with repeat signs hold a colon too). */
export function readHeaderLine(source: SourceLine): RawHeader | null {
  const colon = source.text.indexOf(':');
  if (colon < 0 || source.text[colon + 1] === '|') return null;
  const written = source.text.slice(0, colon).trim();
  if (!NAME.test(written)) return null;
  const rest = source.text.slice(colon + 1);
  const known = KNOWN_HEADERS.find((name) => name === written.toLowerCase());
  return {
    line: source.line,
    column: source.text.length - source.text.trimStart().length + 1,
    name: known ?? written,
    value: rest.trim(),
    valueColumn: colon + 2 + (rest.length - rest.trimStart().length),
  };
}

/** The known headers understood, the others kept in order; title, key and meter must be there. */
export function readHeaders(headers: readonly RawHeader[]): HeadersResult {
  const problems: ChartProblem[] = [];
  const singles = new Map<SingleName, RawHeader>();
  const others: RawHeader[] = [];
  for (const header of headers) {
    const name = SINGLE.find((single) => single === header.name);
    if (name === undefined) others.push(header);
    else if (singles.has(name)) problems.push(duplicate(header, name));
    else singles.set(name, header);
  }
  const read = <Value>(
    name: SingleName,
    reader: (header: RawHeader) => Outcome<Value, ChartProblem>,
  ): Value | null => {
    const header = singles.get(name);
    if (header === undefined) {
      if (name !== 'tempo' && name !== 'pickup') problems.push(missing(name, others));
      return null;
    }
    const outcome = header.value === '' ? failure(empty(header)) : reader(header);
    if (outcome.ok) return outcome.value;
    problems.push(...outcome.problems);
    return null;
  };
  return {
    title: read('title', (header) => success(header.value)),
    key: read('key', readKey),
    meter: read('meter', readMeter),
    tempoBpm: read('tempo', readTempo),
    pickup: read('pickup', success),
    others: others.map(({ name, value }) => ({ name, value })),
    problems,
  };
}

function valueProblem(
  header: RawHeader,
  code: ChartProblemCode,
  expected: string,
  suggestion: string | null,
): ChartProblem {
  const place = { line: header.line, column: header.valueColumn };
  return chartProblem(code, place, header.value, expected, suggestion);
}

function empty(header: RawHeader): ChartProblem {
  const read = `${header.name}:`;
  return {
    ...valueProblem(header, 'emptyHeader', EXPECTED[header.name as SingleName], null),
    read,
  };
}

function duplicate(header: RawHeader, name: SingleName): ChartProblem {
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

/** What must be there. */
type NeededName = Exclude<SingleName, 'tempo' | 'pickup'>;

const MISSING: Readonly<Record<NeededName, ChartProblemCode>> = {
  title: 'missingTitle',
  key: 'missingKey',
  meter: 'missingMeter',
};

/** A misspelt name is the usual cause; then the problem stands at that line. */
function missing(name: NeededName, others: readonly RawHeader[]): ChartProblem {
  const slip = others.find((header) => nearestWordAnyCase(header.name, [name]) !== null);
  if (slip === undefined) {
    return chartProblem(MISSING[name], { line: 1, column: 1 }, `no ${name}`, EXPECTED[name]);
  }
  const suggestion = `${name}: ${slip.value}`;
  return chartProblem(MISSING[name], slip, slip.name, EXPECTED[name], suggestion);
}

/** Problem: `unknownKey`. */
function readKey(header: RawHeader): Outcome<Key, ChartProblem> {
  const key = parseKeyText(header.value);
  if (key.ok) return key;
  return failure(
    ...key.problems.map(({ expected, suggestion }) =>
      valueProblem(header, 'unknownKey', expected, suggestion),
    ),
  );
}

function readMeter(header: RawHeader): Outcome<Meter, ChartProblem> {
  const meter = parseMeter(header.value);
  if (meter !== null) return success(meter);
  const names = METERS.map(formatMeter);
  const compact = header.value.slice(0, 40).replace(/\s/gu, '');
  const near = names.includes(compact) ? compact : nearestWordAnyCase(compact, names);
  return failure(valueProblem(header, 'unknownMeter', `one of ${names.join(', ')}`, near));
}

/** Reads beats per minute, whole or with a decimal point. Problem: `unknownTempo`. */
function readTempo(header: RawHeader): Outcome<number, ChartProblem> {
  const { lowest, highest } = TEMPO_RANGE_BPM;
  const tempo = /^[0-9]{1,4}(?:\.[0-9]{1,4})?$/u.test(header.value) ? Number(header.value) : null;
  if (tempo !== null && tempo >= lowest && tempo <= highest) return success(tempo);
  const expected = `beats per minute from ${lowest} to ${highest}, the number alone`;
  const digits = Number(/[0-9]{1,4}/u.exec(header.value)?.[0] ?? '0');
  const suggestion =
    tempo === null && digits >= lowest && digits <= highest ? String(digits) : null;
  return failure(valueProblem(header, 'unknownTempo', expected, suggestion));
}
