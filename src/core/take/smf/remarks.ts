/**
 * What the MIDI files of this program say beside notes: text events of one line, `linekeeper`, a word, and JSON in ASCII. The
 * words stand in `docs/take-files.md`. A file is read all the same without them, or when one of them cannot be read.
 */

import type { ReadingDecision } from '../../grading/readings/index.ts';
import type { GradeSettings } from '../../grading/settings.ts';
import { ALLOWANCES, LEVELS, READING_CHOICES, READING_KINDS, SLOTS_PER_BEAT } from '../../words.ts';
import { FURTHEST_MS, MOST_SOURCES, type TakeBreak, type TakeSource } from '../model.ts';

/** What a take was graded by, apart from its tempo, which is the file's. */
export type FileSettings = Partial<Omit<GradeSettings, 'tempo'>>;

export interface TakeRemarks {
  readonly sources: readonly TakeSource[];
  readonly breaks: readonly TakeBreak[];
  readonly settings: FileSettings | null;
  readonly decision: ReadingDecision | null;
}

const PREFIX = 'linekeeper ';

/** The channel, counted from 0, that a source's events stand on: any but that of percussion. */
export function channelOfSource(source: number): number {
  return source < PERCUSSION ? source : source + 1;
}

/** The inverse of `channelOfSource`. */
export function sourceOfChannel(channel: number): number {
  return channel < PERCUSSION ? channel : channel - 1;
}

/** The percussion channel of General MIDI, counted from 0: a recorded click, not the player's hands. */
export const PERCUSSION = 9;

/** The text events of a take, in order; none for one that has nothing to say. */
export function formatRemarks({ sources, breaks, settings, decision }: TakeRemarks): string[] {
  return [
    ...sources.map((source) => remark('source', source)),
    ...breaks.map((pause) => remark('break', pause)),
    ...(settings === null ? [] : [remark('settings', settings)]),
    ...(decision === null ? [] : [remark('decision', decision)]),
  ];
}

function remark(word: string, value: object): string {
  const json = JSON.stringify(value).replace(
    /[^ -~]/g,
    (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
  return `${PREFIX}${word} ${json}`;
}

/** Reads the text events of a file; others' are passed over. `unread` counts those of ours that are not as they should be. */
export function readRemarks(texts: readonly string[]): TakeRemarks & { readonly unread: number } {
  const sources: TakeSource[] = [];
  const breaks: TakeBreak[] = [];
  let settings: FileSettings | null = null;
  let decision: ReadingDecision | null = null;
  let unread = 0;
  for (const text of texts) {
    if (!text.startsWith(PREFIX)) continue;
    const [, word = '', json = ''] = /^(\S+) (.*)$/s.exec(text.slice(PREFIX.length)) ?? [];
    const value = parse(json);
    const source = word === 'source' ? readSource(value) : null;
    const pause = word === 'break' ? readBreak(value) : null;
    const read = word === 'settings' ? readSettings(value) : null;
    const decided = word === 'decision' ? readDecision(value) : null;
    if (source !== null && sources.length < MOST_SOURCES) sources.push(source);
    else if (pause !== null) breaks.push(pause);
    else if (read !== null) settings = read;
    else if (decided !== null) decision = decided;
    else unread++;
  }
  return { sources, breaks, settings, decision, unread };
}

type Fields = Readonly<Record<string, unknown>>;

function parse(json: string): Fields | null {
  try {
    const value: unknown = JSON.parse(json);
    return isFields(value) ? value : null;
  } catch {
    return null;
  }
}

function isFields(value: unknown): value is Fields {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}

function isBetween(value: unknown, least: number, most: number): value is number {
  return typeof value === 'number' && value >= least && value <= most;
}

function isWhole(value: unknown, least: number, most: number): value is number {
  return isBetween(value, least, most) && Number.isInteger(value);
}

function isOneOf<Word>(words: readonly Word[], value: unknown): value is Word {
  return words.some((word) => word === value);
}

function isKey(value: unknown): value is number | null {
  return value === null || isWhole(value, 0, 127);
}

const LATENCY = [-500, 1000] as const;
const TIME = [-FURTHEST_MS, FURTHEST_MS] as const;

function readSource(value: Fields | null): TakeSource | null {
  const { name, latencyMs, splitMidi } = value ?? {};
  const isName = typeof name === 'string' && name.length <= 200;
  if (!isName || !isBetween(latencyMs, ...LATENCY) || !isKey(splitMidi)) return null;
  return { name, latencyMs, splitMidi };
}

function readBreak(value: Fields | null): TakeBreak | null {
  const { fromMs, toMs } = value ?? {};
  if (!isBetween(fromMs, ...TIME) || !isBetween(toMs, ...TIME) || toMs < fromMs) return null;
  return { fromMs, toMs };
}

const allowance = (value: unknown): boolean => isOneOf(ALLOWANCES, value);

/** What each setting may be; one that is not makes the whole text unread, one that is not known is passed over. */
const SETTINGS: Readonly<Record<keyof FileSettings, (value: unknown) => boolean>> = {
  level: (value) => isOneOf(LEVELS, value),
  choruses: (value) => value === null || isWhole(value, 1, 1000),
  slotsPerBeat: (value) => value === null || isOneOf(SLOTS_PER_BEAT, value),
  swing: (value) => isBetween(value, 1, 4),
  latencyMs: (value) => isBetween(value, ...LATENCY),
  splitMidi: isKey,
  toleranceMs: (value) => value === null || isBetween(value, 0, 500),
  approach: allowance,
  repeats: allowance,
  lineUp: allowance,
  anticipation: allowance,
  leftHand: (value) => typeof value === 'boolean',
};

function readSettings(value: Fields | null): FileSettings | null {
  if (value === null) return null;
  const known = Object.entries(SETTINGS).filter(([name]) => Object.hasOwn(value, name));
  if (!known.every(([name, isSound]) => isSound(value[name]))) return null;
  return Object.fromEntries(known.map(([name]) => [name, value[name]]));
}

function readDecision(value: Fields | null): ReadingDecision | null {
  const { reading, choice } = value ?? {};
  if (!isFields(reading) || !isOneOf(READING_CHOICES, choice)) return null;
  const { kind, value: read, fromSlot, clears, of } = reading;
  const isSound =
    isOneOf(READING_KINDS, kind) &&
    (kind === 'slip' ? isWhole(fromSlot, 0, Number.MAX_SAFE_INTEGER) : fromSlot === null) &&
    isWhole(clears, 0, Number.MAX_SAFE_INTEGER) &&
    isWhole(of, 0, Number.MAX_SAFE_INTEGER) &&
    VALUES[kind](read);
  // Each field was looked at: what is left is to say so.
  const fields = { kind, value: read, fromSlot, clears, of };
  return isSound ? ({ reading: fields, choice } as ReadingDecision) : null;
}

const VALUES: Readonly<Record<(typeof READING_KINDS)[number], (value: unknown) => boolean>> = {
  timing: (value) =>
    isFields(value) && isBetween(value['swing'], 1, 4) && isBetween(value['latencyMs'], ...TIME),
  split: isKey,
  start: (value) => isWhole(value, -1_000_000, 1_000_000),
  key: (value) => isWhole(value, -5, 6),
  slip: (value) => isWhole(value, -2, 2),
  level: (value) => isOneOf(LEVELS, value),
};
