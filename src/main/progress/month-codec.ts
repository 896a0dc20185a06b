/**
 * Takes of a month as bytes and back. Numbers lie as they are used, so that reading them back costs little: 64-bit floats for
 * what every take has, then whole numbers for its bars, then JSON for what is text and for what is seldom asked.
 * Little-endian, as every machine is that the program is made for.
 */

import { crc32 } from 'node:zlib';
import { z } from 'zod';
import { type PlayedTake, practiceId, type RangeTake } from '../../core/progress/index.ts';
import type { Level } from '../../core/words.ts';
import { BAR_NUMBERS, type MonthNumbers, PackedEvidence, TAKE_NUMBERS } from './packed-evidence.ts';

/** A take that counts, without its chords; the bars it was of, or null for the whole form. */
export interface KeptTake {
  readonly take: PlayedTake;
  /** Its `practiceId`: told once for all takes of a month that have it. */
  readonly practice: string;
  readonly bars: RangeTake['bars'] | null;
}

/** Raised with every change of the bytes: those of another format are read from the takes again. */
const FORMAT = 1;

/** Format, sum of what follows it; takes, numbers of bars and the bytes of one, bytes of both texts, and one to spare. */
const HEAD_NUMBERS = 8;
const HEAD_BYTES = HEAD_NUMBERS * 4;
const SUMMED_FROM = 8;
const FLOAT_BYTES = 8;
const NARROW_BYTES = 2;

type MonthName = readonly [
  chartId: string,
  chartTitle: string,
  plan: string,
  key: string,
  level: Level,
];

/** Of the lists in it the sum says that they are as they were packed. */
const textSchema = z.object({
  takeIds: z.custom<readonly string[]>(Array.isArray),
  names: z.custom<readonly MonthName[]>(Array.isArray),
});
const lateSchema = z.custom<ReturnType<MonthNumbers['late']>>(Array.isArray);

export function packMonth(kept: readonly KeptTake[]): Uint8Array {
  const names = new Map<string, number>();
  const takes = new Float64Array(kept.length * TAKE_NUMBERS);
  const barNumbers: number[] = [];
  kept.forEach(({ take, bars: range }, index) => {
    const { chartId, chartTitle, plan, key, level, tempoBpm, evidence } = take;
    const name = JSON.stringify([chartId, chartTitle, plan, key, level]);
    if (!names.has(name)) names.set(name, names.size);
    const { playedAtMs, choruses, slots, clean, changesCounted, changesOnTime, bars } = evidence;
    takes.set(
      [
        ...[names.get(name) ?? 0, tempoBpm, playedAtMs, choruses, slots, clean],
        ...[changesCounted, changesOnTime, range?.from ?? -1, range?.to ?? -1, bars.length],
      ],
      index * TAKE_NUMBERS,
    );
    for (const bar of bars) barNumbers.push(bar.bar, bar.slots, bar.clean);
  });
  const isNarrow = barNumbers.every((number) => Number.isInteger(number) && isSixteenBits(number));
  const bars = isNarrow ? Uint16Array.from(barNumbers) : Float64Array.from(barNumbers);
  const text = jsonBytes({
    takeIds: kept.map(({ take }) => take.takeId),
    names: [...names.keys()].map((name): unknown => JSON.parse(name)),
  });
  const late = jsonBytes(
    kept.map(({ take }) =>
      take.evidence.lateChanges.map(({ bar, beat, toChord }) => [bar, beat, toChord]),
    ),
  );
  const head = Uint32Array.of(
    ...[FORMAT, 0, kept.length, bars.length, bars.BYTES_PER_ELEMENT, text.length, late.length, 0],
  );
  const bytes = Buffer.concat([bytesOf(head), bytesOf(takes), bytesOf(bars), text, late]);
  bytes.writeUInt32LE(crc32(bytes.subarray(SUMMED_FROM)), 4);
  return bytes;
}

function isSixteenBits(number: number): boolean {
  return number >= 0 && number < 2 ** 16;
}

function jsonBytes(value: unknown): Uint8Array {
  return Buffer.from(JSON.stringify(value));
}

function bytesOf({ buffer, byteOffset, byteLength }: ArrayBufferView): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength);
}

/** The takes, in the order they were packed in; null for bytes of another format, or damaged ones. */
export function unpackMonth(packed: Uint8Array): readonly KeptTake[] | null {
  // Numbers are read where they lie, which must be at a multiple of their size.
  const bytes = packed.byteOffset % FLOAT_BYTES === 0 ? packed : Uint8Array.from(packed);
  if (bytes.length < HEAD_BYTES) return null;
  const { buffer, byteOffset } = bytes;
  const head = new Uint32Array(buffer, byteOffset, HEAD_NUMBERS);
  const [format, sum, takeCount = 0, barCount = 0, barBytes, textLength = 0, lateLength = 0] = head;
  if (format !== FORMAT || sum !== crc32(bytes.subarray(SUMMED_FROM))) return null;
  const takes = new Float64Array(buffer, byteOffset + HEAD_BYTES, takeCount * TAKE_NUMBERS);
  const barsAt = takes.byteOffset + takes.byteLength;
  const bars =
    barBytes === NARROW_BYTES
      ? new Uint16Array(buffer, barsAt, barCount)
      : new Float64Array(buffer, barsAt, barCount);
  const textAt = bars.byteOffset + bars.byteLength;
  const json = (at: number, length: number): unknown =>
    JSON.parse(Buffer.from(buffer, at, length).toString());
  const late = memo(() => lateSchema.parse(json(textAt + textLength, lateLength)));
  return readTakes({ takes, bars, late }, textSchema.parse(json(textAt, textLength)));
}

function memo<Value>(make: () => Value): () => Value {
  let made: { readonly value: Value } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

function readTakes(
  month: MonthNumbers,
  { takeIds, names }: z.infer<typeof textSchema>,
): readonly KeptTake[] {
  let firstBar = 0;
  const practices = names.map(([chartId, , plan, key, level]) =>
    practiceId({ chartId, plan, key, level }),
  );
  return takeIds.map((takeId, index): KeptTake => {
    const number = (place: number): number => month.takes[index * TAKE_NUMBERS + place] ?? 0;
    const name = names[number(0)];
    const practice = practices[number(0)];
    if (name === undefined || practice === undefined) throw new Error('a take of no practice');
    const [chartId, chartTitle, plan, key, level] = name;
    const evidence = new PackedEvidence(month, index, firstBar);
    const [from, to, bars] = [number(8), number(9), number(10)];
    firstBar += bars * BAR_NUMBERS;
    return {
      take: { takeId, chartId, chartTitle, plan, key, level, tempoBpm: number(1), evidence },
      practice,
      bars: from === -1 ? null : { from, to },
    };
  });
}
