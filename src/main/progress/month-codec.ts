/**
 * Takes of a month as bytes and back. Numbers lie as they are used, so that reading them back costs little: 64-bit floats for
 * what every take has, then whole numbers for its bars, then JSON for what is text and for what is seldom asked.
 * Little-endian, as every machine is that the program is made for.
 */

import { crc32 } from 'node:zlib';
import { z } from 'zod';
import { type PracticeName, practiceId } from '../../core/progress/index.ts';
import type { CountedTake } from '../store/index.ts';
import { memo, memoBy } from './memo.ts';
import { type NameParts, nameAt, namePartsSchema, numberNames } from './month-names.ts';
import {
  type BarNumbers,
  barNumbers,
  type MonthNumbers,
  PackedEvidence,
  TAKE_NUMBERS,
} from './packed-evidence.ts';

export type KeptTake = CountedTake;

/** Raised with every change of the bytes: those of another format are read from the takes again. */
const FORMAT = 4;

/** Format, sum of what follows it; takes, numbers of bars and the bytes of one, bytes of the three texts: names, ids, late changes. */
const HEAD_NUMBERS = 8;
const HEAD_BYTES = HEAD_NUMBERS * 4;
const SUMMED_FROM = 8;
const FLOAT_BYTES = 8;

/** Of the lists in it the sum says that they are as they were packed. */
const lateSchema = z.custom<ReturnType<MonthNumbers['late']>>(Array.isArray);

/** What a month has of takes that count. */
export interface Month {
  /** Those of wanted practices, in the order of the month. The same take is the same object each time. */
  takes(isWanted: (name: PracticeName) => boolean): readonly KeptTake[];
}

export function packMonth(kept: readonly KeptTake[]): Uint8Array {
  const { parts, numbers } = numberNames(kept.map(({ take }) => take));
  const takes = new Float64Array(kept.length * TAKE_NUMBERS);
  const numbersOfBars: number[] = [];
  const takeIds = kept.map(({ take }) => Buffer.from(take.takeId));
  let takeIdAt = 0;
  kept.forEach(({ take, bars: range }, index) => {
    const { playedAtMs, choruses, slots, clean, changesCounted, changesOnTime, bars } =
      take.evidence;
    const isUndecided = take.evidence.isUndecided === true;
    const takeIdLength = takeIds[index]?.length ?? 0;
    takes.set(
      [
        ...[numbers[index] ?? 0, take.tempoBpm, playedAtMs, choruses, slots, clean],
        ...[changesCounted, changesOnTime, range?.from ?? -1, range?.to ?? -1],
        ...[numbersOfBars.length, bars.length, takeIdAt, takeIdLength, isUndecided ? 1 : 0],
        ...[take.evidence.changesUnproven, take.evidence.changesLeftOut],
      ],
      index * TAKE_NUMBERS,
    );
    takeIdAt += takeIdLength;
    for (const bar of bars) numbersOfBars.push(...barNumbers(bar));
  });
  const bars = narrowest(numbersOfBars);
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
  return monthOf({ takes, bars, late }, namePartsSchema.parse(json(partsAt, partsLength)), takeIds);
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
