/**
 * The pickup: the tune begins so long before bar 1 of the first chorus. It is no bar of the form: bars count from 1, and
 * in later choruses the last bar holds it. Source: common practice, no source.
 */

import { nearestWordAnyCase } from '../nearest-word.ts';
import { readContent } from './content.ts';
import { formatContent } from './format-content.ts';
import { valueFix, valuePlace } from './headers.ts';
import { beatsPerBar, eighthsPerBeat, formatMeter, isCompound } from './meter.ts';
import type { Chart, FormPickup, Meter, WrittenPickup } from './model.ts';
import { type ChartProblem, chartProblem, type QuickFix } from './problems.ts';
import type { HeaderNode } from './syntax/lines.ts';
import { tokenizeBars } from './syntax/tokens.ts';
import type { ContentToken } from './syntax/tree.ts';

/** The name of the header line. */
export const PICKUP_HEADER = 'pickup';

/** The number of the short bar that a pickup is, where bars are numbered from 1. */
export const PICKUP_BAR = 0;

/** The meter of bar 1, which a chart's header need not have: a change may stand before the first bar. */
export function firstMeter({ sections, meter }: Pick<Chart, 'sections' | 'meter'>): Meter {
  return sections[0]?.bars[0]?.meter ?? meter;
}

/** The longest pickup before a bar of a meter, in eighths: an eighth less than the bar. */
export function longestPickup(meter: Meter): number {
  return beatsPerBar(meter) * eighthsPerBeat(meter) - 1;
}

/**
 * The short bar of whole beats that ends in the bar line: 1/4 for a pickup of one eighth before a bar of 4/4. One before a bar that
 * beats in eighths has them in one group.
 */
export function pickupMeter(eighths: number, meter: Meter): Meter {
  const beats = Math.ceil(eighths / eighthsPerBeat(meter));
  const count = isCompound(meter) ? beats * 3 : beats;
  return { count, unit: meter.unit, ...(meter.groups === undefined ? {} : { groups: [count] }) };
}

/** Beats of that short bar, less than one, that lie before the pickup begins. */
export function pickupBeatsBefore(eighths: number, meter: Meter): number {
  return beatsPerBar(pickupMeter(eighths, meter)) - eighths / eighthsPerBeat(meter);
}

/** What the header says: `1`, `3/8`, `2 Dm7 G7`. In: the meter of bar 1. The inverse of `readPickup`. */
export function formatPickup({ eighths, chords }: WrittenPickup, meter: Meter): string {
  const length = formatLength(eighths, meter);
  if (chords.length === 0) return length;
  const content = { kind: 'chords', chords } as const;
  return `${length} ${formatContent({ content, meter: pickupMeter(eighths, meter) })}`;
}

function formatLength(eighths: number, meter: Meter): string {
  const beats = eighths / eighthsPerBeat(meter);
  return Number.isInteger(beats) ? String(beats) : `${eighths}/8`;
}

/** Its length in words: `1 beat`, `3 eighths`. */
export function describePickup({ beats, meter }: Pick<FormPickup, 'beats' | 'meter'>): string {
  const isWhole = Number.isInteger(beats);
  const count = isWhole ? beats : Math.round(beats * eighthsPerBeat(meter));
  const unit = isWhole ? 'beat' : 'eighth';
  return `${count} ${unit}${count === 1 ? '' : 's'}`;
}

export interface PickupResult {
  /** Null when there are problems. */
  readonly pickup: WrittenPickup | null;
  readonly problems: readonly ChartProblem[];
}

/**
 * Reads the header of a pickup before a bar of a meter: its length in beats (`1`, `1.5`) or in note values (`3/8`,
 * `1/4`), then the chords in it, if any, which share its beats as those of a bar do; the first beat may be a part of one.
 * Problems: `unknownPickup` at the length, and those of the chords.
 */
export function readPickup(header: HeaderNode, meter: Meter): PickupResult {
  return readValue(header, meter, true);
}

/** A value is offered as a fix when it is one that reads. */
function readValue(header: HeaderNode, meter: Meter, offersFix: boolean): PickupResult {
  const { value } = header;
  const place = valuePlace(header);
  const fixOf = (nearest: string): QuickFix | null => {
    if (!offersFix) return null;
    const { problems } = readValue({ ...header, value: nearest }, meter, false);
    const isKnown = problems.every(({ code }) => code !== 'unknownPickup');
    return isKnown ? valueFix(header, nearest) : null;
  };
  const [first, ...rest] = tokenizeBars({ ...place, from: header.valueFrom, text: value }).filter(
    ({ kind }) => kind !== 'space',
  );
  const isAlone = first?.kind === 'word' && !UNIT.test(rest[0]?.text ?? '');
  const eighths = isAlone ? readLength(first.text, meter) : null;
  if (eighths === null || eighths < 1 || eighths > longestPickup(meter)) {
    const fix = fixOf(nearestValue(value, eighths, meter));
    return {
      pickup: null,
      problems: [chartProblem('unknownPickup', place, value, lengthsOf(meter), fix)],
    };
  }
  const tokens = rest.filter(isContent);
  const foreign = rest.find((token) => !isContent(token) || token.text === '%');
  if (foreign !== undefined) {
    const bare = [first, ...tokens].filter((token) => token?.text !== '%');
    const nearest = bare.map((token) => token?.text ?? '').join(' ');
    const expected = 'after the length chords alone, such as 2 Dm7 G7';
    return {
      pickup: null,
      problems: [chartProblem('unknownPickup', place, value, expected, fixOf(nearest))],
    };
  }
  if (tokens.length === 0) return { pickup: { eighths, chords: [] }, problems: [] };
  const short = pickupMeter(eighths, meter);
  const bar = { place: tokens[0] ?? place, tokens };
  const { content, problems } = readContent(bar, short);
  const chords = content?.kind === 'chords' ? content.chords : [];
  const expected = chordsOf(beatsPerBar(short));
  const begins = 1 + pickupBeatsBefore(eighths, meter);
  if (chords.some(({ beat, beats }) => beat + beats <= begins)) {
    const read = tokens.map(({ text }) => text).join(' ');
    return {
      pickup: null,
      problems: [chartProblem('beatsDoNotFit', bar.place, read, expected)],
    };
  }
  return {
    pickup: content?.kind === 'chords' ? { eighths, chords } : null,
    problems: problems.map((problem) =>
      problem.code === 'beatsDoNotFit' ? { ...problem, expected } : problem,
    ),
  };
}

function isContent(token: { readonly kind: string }): token is ContentToken {
  return token.kind === 'word' || token.kind === 'palette';
}

function chordsOf(beats: number): string {
  return beats === 1
    ? 'one chord, for this pickup has no more than a beat'
    : `at most ${beats} chords, or ${beats} chords and /, one for each beat of the pickup, or twice as many`;
}

/** A length in eighths, which may be none a pickup can have; null for what is no number of them. */
function readLength(text: string, meter: Meter): number | null {
  const value = /^([0-9]{1,3})\/(4|8)$/u.exec(text);
  if (value !== null) return Number(value[1]) * (value[2] === '4' ? 2 : 1);
  if (!/^-?[0-9]{1,3}(?:\.[0-9]{1,4})?$/u.test(text)) return null;
  const eighths = Number(text) * eighthsPerBeat(meter);
  return Number.isInteger(eighths) ? eighths : null;
}

function lengthsOf(meter: Meter): string {
  const beats = beatsPerBar(meter) - 1;
  const whole = beats === 1 ? '1 for one beat' : `beats from 1 to ${beats}`;
  return `less than a bar of ${formatMeter(meter)}: ${whole}, or eighths from 1/8 to ${longestPickup(meter)}/8`;
}

/** Words people put after the number, which says beats by itself. */
const UNIT = /^(beat|quarter|eighth)s?$/iu;

const NUMBERS = ['one', 'two', 'three', 'four', 'five', 'six'];

/** What was probably meant: the nearest length there is, or the chords with their number of beats before them. */
function nearestValue(value: string, eighths: number | null, meter: Meter): string {
  const [first = '', ...rest] = value.split(/\s+/u);
  const nearest = (wanted: number, chords: readonly string[]): string => {
    const fitting = Math.min(Math.max(Math.round(wanted), 1), longestPickup(meter));
    return [formatLength(fitting, meter), ...chords].join(' ');
  };
  const perBeat = eighthsPerBeat(meter);
  const named = UNIT.exec(rest[0] ?? '')?.[1]?.toLowerCase();
  const chords = named === undefined ? rest : rest.slice(1);
  const unit = named === 'eighth' ? 1 : named === 'quarter' ? 2 : perBeat;
  if (eighths !== null) {
    // As long as a bar, or longer: the most whole beats there are.
    const most = (beatsPerBar(meter) - 1) * perBeat;
    return nearest(eighths > longestPickup(meter) ? most : Math.max(eighths, perBeat), chords);
  }
  const figure = /^-?[0-9]{1,3}(?:[.,][0-9]{1,4})?/u.exec(first)?.[0].replace(',', '.');
  if (figure !== undefined) return nearest(Number(figure) * unit, chords);
  const word = nearestWordAnyCase(first, NUMBERS);
  if (word !== null) return nearest((NUMBERS.indexOf(word) + 1) * unit, chords);
  const words = value.split(/[\s|]+/u).filter((one) => one !== '' && !one.startsWith('<'));
  return nearest(words.length * perBeat, [value.replaceAll('|', ' ').trim()]);
}
