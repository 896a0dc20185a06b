/**
 * Takes of a month as bytes and back. Numbers lie as they are used, so that reading them back costs little: 64-bit floats for
 * what every take has, then whole numbers for its bars, then JSON for what is text and for what is seldom asked.
 * Little-endian, as every machine is that the program is made for.
 */

import { crc32 } from 'node:zlib';
import { z } from 'zod';
import {
  type PlayedTake,
  type PracticeName,
  practiceId,
  type RangeTake,
} from '../../core/progress/index.ts';
import type { Level } from '../../core/words.ts';
import { type MonthNumbers, PackedEvidence, TAKE_NUMBERS } from './packed-evidence.ts';

/** A take that counts, without its chords; the bars it was of, or null for the whole form. */
export interface KeptTake {
  readonly take: PlayedTake;
  /** Its `practiceId`: told once for all takes of a month that have it. */
  readonly practice: string;
  readonly bars: RangeTake['bars'] | null;
}

/** Raised with every change of the bytes: those of another format are read from the takes again. */
const FORMAT = 2;

/** Format, sum of what follows it; takes, numbers of bars and the bytes of one, bytes of the three texts. */
const HEAD_NUMBERS = 8;
const HEAD_BYTES = HEAD_NUMBERS * 4;
const SUMMED_FROM = 8;
const FLOAT_BYTES = 8;
const NARROW_BYTES = 2;

/** What names of practices are made of: so many charts, plans, keys and levels; a name is the number of its place among all. */
const partsSchema = z.object({
  charts: z.custom<readonly (readonly [chartId: string, chartTitle: string])[]>(Array.isArray),
  plans: z.custom<readonly string[]>(Array.isArray),
  keys: z.custom<readonly string[]>(Array.isArray),
  levels: z.custom<readonly Level[]>(Array.isArray),
});
type NameParts = z.infer<typeof partsSchema>;

/** Of the lists in these the sum says that they are as they were packed. */
const takeIdsSchema = z.custom<readonly string[]>(Array.isArray);
const lateSchema = z.custom<ReturnType<MonthNumbers['late']>>(Array.isArray);

/** What a month has of takes that count. */
export interface Month {
  /** Those of wanted practices, in the order of the month. The same take is the same object each time. */
  takes(isWanted: (name: PracticeName) => boolean): readonly KeptTake[];
}

export function packMonth(kept: readonly KeptTake[]): Uint8Array {
  const parts = partsOf(kept);
  const takes = new Float64Array(kept.length * TAKE_NUMBERS);
  const barNumbers: number[] = [];
  kept.forEach(({ take, bars: range }, index) => {
    const { tempoBpm, evidence } = take;
    const { playedAtMs, choruses, slots, clean, changesCounted, changesOnTime, bars } = evidence;
    takes.set(
      [
        ...[nameNumber(parts, take), tempoBpm, playedAtMs, choruses, slots, clean],
        ...[changesCounted, changesOnTime, range?.from ?? -1, range?.to ?? -1],
        ...[barNumbers.length, bars.length],
      ],
      index * TAKE_NUMBERS,
    );
    for (const bar of bars) barNumbers.push(bar.bar, bar.slots, bar.clean);
  });
  const isNarrow = barNumbers.every((number) => Number.isInteger(number) && isSixteenBits(number));
  const bars = isNarrow ? Uint16Array.from(barNumbers) : Float64Array.from(barNumbers);
  const texts = [
    parts,
    kept.map(({ take }) => take.takeId),
    kept.map(({ take }) =>
      take.evidence.lateChanges.map(({ bar, beat, toChord }) => [bar, beat, toChord]),
    ),
  ].map((value) => Buffer.from(JSON.stringify(value)));
  const head = Uint32Array.of(
    ...[FORMAT, 0, kept.length, bars.length, bars.BYTES_PER_ELEMENT],
    ...texts.map(({ length }) => length),
  );
  const bytes = Buffer.concat([...[head, takes, bars].map(bytesOf), ...texts]);
  bytes.writeUInt32LE(crc32(bytes.subarray(SUMMED_FROM)), 4);
  return bytes;
}

function partsOf(kept: readonly KeptTake[]): NameParts {
  const takes = kept.map(({ take }) => take);
  const charts = new Map(
    takes.map(
      ({ chartId, chartTitle }) => [chartName(chartId, chartTitle), [chartId, chartTitle]] as const,
    ),
  );
  return {
    charts: [...charts.values()],
    plans: [...new Set(takes.map(({ plan }) => plan))],
    keys: [...new Set(takes.map(({ key }) => key))],
    levels: [...new Set(takes.map(({ level }) => level))],
  };
}

/** A chart may have been renamed within a month. */
function chartName(chartId: string, chartTitle: string): string {
  return JSON.stringify([chartId, chartTitle]);
}

function nameNumber({ charts, plans, keys, levels }: NameParts, take: PlayedTake): number {
  const own = chartName(take.chartId, take.chartTitle);
  const chart = charts.findIndex(([chartId, title]) => chartName(chartId, title) === own);
  const plan = chart * plans.length + plans.indexOf(take.plan);
  const key = plan * keys.length + keys.indexOf(take.key);
  return key * levels.length + levels.indexOf(take.level);
}

interface MonthName extends PracticeName {
  readonly chartTitle: string;
}

/** The inverse of `nameNumber`. */
function nameAt({ charts, plans, keys, levels }: NameParts, number: number): MonthName {
  const byKey = Math.floor(number / levels.length);
  const byPlan = Math.floor(byKey / keys.length);
  const chart = charts[Math.floor(byPlan / plans.length)];
  const plan = plans[byPlan % plans.length];
  const key = keys[byKey % keys.length];
  const level = levels[number % levels.length];
  if (chart === undefined || plan === undefined || key === undefined || level === undefined) {
    throw new Error('a take of no practice');
  }
  const [chartId, chartTitle] = chart;
  return { chartId, chartTitle, plan, key, level };
}

function isSixteenBits(number: number): boolean {
  return number >= 0 && number < 2 ** 16;
}

function bytesOf({ buffer, byteOffset, byteLength }: ArrayBufferView): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength);
}

/** The month that was packed, its takes read as they are wanted; null for bytes of another format, or damaged ones. */
export function unpackMonth(packed: Uint8Array): Month | null {
  // Numbers are read where they lie, which must be at a multiple of their size.
  const bytes = packed.byteOffset % FLOAT_BYTES === 0 ? packed : Uint8Array.from(packed);
  if (bytes.length < HEAD_BYTES) return null;
  const { buffer, byteOffset } = bytes;
  const head = new Uint32Array(buffer, byteOffset, HEAD_NUMBERS);
  const [format, sum, takeCount = 0, barCount = 0, barBytes] = head;
  if (format !== FORMAT || sum !== crc32(bytes.subarray(SUMMED_FROM))) return null;
  const takes = new Float64Array(buffer, byteOffset + HEAD_BYTES, takeCount * TAKE_NUMBERS);
  const barsAt = takes.byteOffset + takes.byteLength;
  const bars =
    barBytes === NARROW_BYTES
      ? new Uint16Array(buffer, barsAt, barCount)
      : new Float64Array(buffer, barsAt, barCount);
  const [, , , , , partsLength = 0, takeIdsLength = 0, lateLength = 0] = head;
  const partsAt = bars.byteOffset + bars.byteLength;
  const takeIdsAt = partsAt + partsLength;
  const json = (at: number, length: number): unknown =>
    JSON.parse(Buffer.from(buffer, at, length).toString());
  const takeIds = memo(() => takeIdsSchema.parse(json(takeIdsAt, takeIdsLength)));
  const late = memo(() => lateSchema.parse(json(takeIdsAt + takeIdsLength, lateLength)));
  return monthOf({ takes, bars, late }, partsSchema.parse(json(partsAt, partsLength)), takeIds);
}

function memo<Value>(make: () => Value): () => Value {
  let made: { readonly value: Value } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

function memoBy<Value>(make: (number: number) => Value): (number: number) => Value {
  const made = new Map<number, Value>();
  return (number) => {
    const known = made.get(number);
    if (known !== undefined) return known;
    const value = make(number);
    made.set(number, value);
    return value;
  };
}

function monthOf(numbers: MonthNumbers, parts: NameParts, takeIds: () => readonly string[]): Month {
  const nameOf = memoBy((number) => nameAt(parts, number));
  const practiceOf = memoBy((number) => practiceId(nameOf(number)));
  const made: KeptTake[] = [];
  const { takes } = numbers;

  function takeAt(index: number): KeptTake {
    const number = (place: number): number => takes[index * TAKE_NUMBERS + place] ?? 0;
    const { chartId, chartTitle, plan, key, level } = nameOf(number(0));
    const takeId = takeIds()[index] ?? '';
    const evidence = new PackedEvidence(numbers, index);
    const [from, to] = [number(8), number(9)];
    return {
      take: { takeId, chartId, chartTitle, plan, key, level, tempoBpm: number(1), evidence },
      practice: practiceOf(number(0)),
      bars: from === -1 ? null : { from, to },
    };
  }

  return {
    takes(isWanted) {
      const isOwn = memoBy((name) => isWanted(nameOf(name)));
      const own: KeptTake[] = [];
      for (let index = 0; index * TAKE_NUMBERS < takes.length; index++) {
        if (!isOwn(takes[index * TAKE_NUMBERS] ?? 0)) continue;
        const take = made[index] ?? takeAt(index);
        made[index] = take;
        own.push(take);
      }
      return own;
    },
  };
}
