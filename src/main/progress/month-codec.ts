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
import { memo, memoBy } from './memo.ts';
import {
  type BarNumbers,
  type MonthNumbers,
  PackedEvidence,
  TAKE_NUMBERS,
} from './packed-evidence.ts';

/** A take that counts, without its chords; the bars it was of, or null for the whole form. */
export interface KeptTake {
  readonly take: PlayedTake;
  /** Its `practiceId`: told once for all takes of a month that have it. */
  readonly practice: string;
  readonly bars: RangeTake['bars'] | null;
}

/** Raised with every change of the bytes: those of another format are read from the takes again. */
const FORMAT = 2;

/** Format, sum of what follows it; takes, numbers of bars and the bytes of one, bytes of the three texts: names, ids, late changes. */
const HEAD_NUMBERS = 8;
const HEAD_BYTES = HEAD_NUMBERS * 4;
const SUMMED_FROM = 8;
const FLOAT_BYTES = 8;

/** What names of practices are made of: so many charts, plans, keys and levels; a name is the number of its place among all. */
const partsSchema = z.object({
  charts: z.custom<readonly (readonly [chartId: string, chartTitle: string])[]>(Array.isArray),
  plans: z.custom<readonly string[]>(Array.isArray),
  keys: z.custom<readonly string[]>(Array.isArray),
  levels: z.custom<readonly Level[]>(Array.isArray),
});
type NameParts = z.infer<typeof partsSchema>;

/** Of the lists in these the sum says that they are as they were packed. */
const lateSchema = z.custom<ReturnType<MonthNumbers['late']>>(Array.isArray);

/** What a month has of takes that count. */
export interface Month {
  /** Those of wanted practices, in the order of the month. The same take is the same object each time. */
  takes(isWanted: (name: PracticeName) => boolean): readonly KeptTake[];
}

export function packMonth(kept: readonly KeptTake[]): Uint8Array {
  const [charts, plans] = [numbered<NameParts['charts'][number]>(), numbered<string>()];
  const [keys, levels] = [numbered<string>(), numbered<Level>()];
  const places = kept.map(
    ({ take: { chartId, chartTitle, plan, key, level } }): NamePlace => [
      charts.numberOf([chartId, chartTitle]),
      plans.numberOf(plan),
      keys.numberOf(key),
      levels.numberOf(level),
    ],
  );
  const parts: NameParts = {
    ...{ charts: charts.all(), plans: plans.all(), keys: keys.all(), levels: levels.all() },
  };
  const takes = new Float64Array(kept.length * TAKE_NUMBERS);
  const barNumbers: number[] = [];
  const takeIds = kept.map(({ take }) => Buffer.from(take.takeId));
  let takeIdAt = 0;
  kept.forEach(({ take, bars: range }, index) => {
    const { playedAtMs, choruses, slots, clean, changesCounted, changesOnTime, bars } =
      take.evidence;
    const takeIdLength = takeIds[index]?.length ?? 0;
    takes.set(
      [
        ...[nameNumber(parts, places[index]), take.tempoBpm, playedAtMs, choruses, slots, clean],
        ...[changesCounted, changesOnTime, range?.from ?? -1, range?.to ?? -1],
        ...[barNumbers.length, bars.length, takeIdAt, takeIdLength],
      ],
      index * TAKE_NUMBERS,
    );
    takeIdAt += takeIdLength;
    for (const bar of bars) barNumbers.push(bar.bar, bar.slots, bar.clean);
  });
  const bars = narrowest(barNumbers);
  const late = kept.map(({ take }) =>
    take.evidence.lateChanges.map(({ bar, beat, toChord }) => [bar, beat, toChord]),
  );
  const texts = [jsonBytes(parts), Buffer.concat(takeIds), jsonBytes(late)];
  const head = Uint32Array.of(
    ...[FORMAT, 0, kept.length, bars.length, bars.BYTES_PER_ELEMENT],
    ...texts.map(({ length }) => length),
  );
  const bytes = Buffer.concat([...[head, takes, bars].map(bytesOf), ...texts]);
  bytes.writeUInt32LE(crc32(bytes.subarray(SUMMED_FROM)), 4);
  return bytes;
}

function jsonBytes(value: unknown): Uint8Array {
  return Buffer.from(JSON.stringify(value));
}

/** Things numbered from 0 on, each once. */
function numbered<Thing>() {
  const numbers = new Map<string, number>();
  const things: Thing[] = [];
  return {
    numberOf(thing: Thing): number {
      const text = JSON.stringify(thing);
      const known = numbers.get(text);
      if (known !== undefined) return known;
      numbers.set(text, things.length);
      return things.push(thing) - 1;
    },
    all: (): readonly Thing[] => things,
  };
}

type NamePlace = readonly [chart: number, plan: number, key: number, level: number];

function nameNumber({ plans, keys, levels }: NameParts, place: NamePlace | undefined): number {
  const [chart, plan, key, level] = place ?? [0, 0, 0, 0];
  return ((chart * plans.length + plan) * keys.length + key) * levels.length + level;
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

/** In as few bytes as hold every one of them. */
function narrowest(numbers: readonly number[]): BarNumbers {
  const largest = numbers.reduce((most, number) => Math.max(most, number), 0);
  const isCount = numbers.every((number) => Number.isInteger(number) && number >= 0);
  if (!isCount || largest >= 2 ** 16) return Float64Array.from(numbers);
  return largest < 2 ** 8 ? Uint8Array.from(numbers) : Uint16Array.from(numbers);
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
  const [format, sum, takeCount = 0, barCount = 0, barBytes = 0] = head;
  if (format !== FORMAT || sum !== crc32(bytes.subarray(SUMMED_FROM))) return null;
  const takes = new Float64Array(buffer, byteOffset + HEAD_BYTES, takeCount * TAKE_NUMBERS);
  const bars = barsAt(buffer, takes.byteOffset + takes.byteLength, barCount, barBytes);
  const [, , , , , partsLength = 0, takeIdsLength = 0, lateLength = 0] = head;
  const partsAt = bars.byteOffset + bars.byteLength;
  const takeIdsAt = partsAt + partsLength;
  const json = (at: number, length: number): unknown =>
    JSON.parse(Buffer.from(buffer, at, length).toString());
  const takeIds = Buffer.from(buffer, takeIdsAt, takeIdsLength);
  const late = memo(() => lateSchema.parse(json(takeIdsAt + takeIdsLength, lateLength)));
  return monthOf({ takes, bars, late }, partsSchema.parse(json(partsAt, partsLength)), takeIds);
}

function barsAt(buffer: ArrayBufferLike, at: number, count: number, bytes: number): BarNumbers {
  if (bytes === Float64Array.BYTES_PER_ELEMENT) return new Float64Array(buffer, at, count);
  if (bytes === Uint16Array.BYTES_PER_ELEMENT) return new Uint16Array(buffer, at, count);
  return new Uint8Array(buffer, at, count);
}

function monthOf(numbers: MonthNumbers, parts: NameParts, takeIds: Buffer): Month {
  const nameOf = memoBy((number) => nameAt(parts, number));
  const practiceOf = memoBy((number) => practiceId(nameOf(number)));
  const { takes } = numbers;

  const takeOf = memoBy((index): KeptTake => {
    const number = (place: number): number => takes[index * TAKE_NUMBERS + place] ?? 0;
    const { chartId, chartTitle, plan, key, level } = nameOf(number(0));
    const takeId = takeIds.toString('utf8', number(12), number(12) + number(13));
    const evidence = new PackedEvidence(numbers, index);
    const [from, to] = [number(8), number(9)];
    return {
      take: { takeId, chartId, chartTitle, plan, key, level, tempoBpm: number(1), evidence },
      practice: practiceOf(number(0)),
      bars: from === -1 ? null : { from, to },
    };
  });

  return {
    takes(isWanted) {
      const isOwn = memoBy((name) => isWanted(nameAt(parts, name)));
      const own: KeptTake[] = [];
      for (let index = 0; index * TAKE_NUMBERS < takes.length; index++) {
        if (isOwn(takes[index * TAKE_NUMBERS] ?? 0)) own.push(takeOf(index));
      }
      return own;
    },
  };
}
