/** Good inputs spoilt: bytes, text and JSON, a few changes at a time. */

import { type Choices, HOSTILE_NUMBERS, HOSTILE_TEXTS } from './chance.ts';

/** The largest input made; the aim for its time is stated for this size. */
export const LARGEST_INPUT = 65_536;

/** A copy with one to eight changes: bytes set, pieces taken out, doubled or taken from another input, the end cut off. */
export function mutateBytes(
  choices: Choices,
  bytes: Uint8Array,
  corpus: readonly Uint8Array[],
): Uint8Array {
  let out: Uint8Array = Uint8Array.from(bytes);
  for (let change = choices.below(choices.oneIn(2) ? 2 : 8); change >= 0; change--) {
    const at = choices.below(out.length + 1);
    const span = Math.min(out.length - at, choices.below(choices.oneIn(4) ? 400 : 9));
    const kind = choices.below(7);
    if (kind <= 2) {
      if (at < out.length) out[at] = kind === 0 ? choices.below(256) : choices.pick(EDGE_BYTES);
    } else if (kind === 3) out = splice(out, at, span, new Uint8Array());
    else if (kind === 4) out = splice(out, at, 0, out.subarray(at, at + span));
    else if (kind === 5) {
      const other = choices.pick(corpus);
      const from = choices.below(other.length + 1);
      out = splice(out, at, span, other.subarray(from, from + choices.below(64)));
    } else if (choices.oneIn(3)) out = out.subarray(0, at);
  }
  return out.length > LARGEST_INPUT ? out.subarray(0, LARGEST_INPUT) : out;
}

const EDGE_BYTES = [0, 1, 0x2f, 0x51, 0x7f, 0x80, 0x90, 0xf0, 0xf7, 0xff];

function splice(bytes: Uint8Array, at: number, remove: number, insert: Uint8Array): Uint8Array {
  const out = new Uint8Array(bytes.length - remove + insert.length);
  out.set(bytes.subarray(0, at));
  out.set(insert, at);
  out.set(bytes.subarray(at + remove), at + insert.length);
  return out;
}

/** A copy with one to six changes: words of the format put in, pieces taken out, repeated or taken from another text. */
export function mutateText(
  choices: Choices,
  text: string,
  corpus: readonly string[],
  words: readonly string[],
): string {
  let out = text;
  for (let change = choices.below(choices.oneIn(2) ? 1 : 6); change >= 0; change--) {
    const at = choices.below(out.length + 1);
    const span = choices.below(choices.oneIn(5) ? 200 : 6);
    const kind = choices.below(8);
    if (kind <= 2)
      out = out.slice(0, at) + choices.pick(words) + out.slice(at + (kind === 0 ? 0 : span));
    else if (kind === 3) out = out.slice(0, at) + choices.pick(HOSTILE_TEXTS) + out.slice(at);
    else if (kind === 4) out = out.slice(0, at) + out.slice(at + span);
    else if (kind === 5) {
      const times = choices.oneIn(40) ? choices.below(4000) : choices.below(4);
      out = out.slice(0, at) + out.slice(at, at + span).repeat(times) + out.slice(at);
    } else if (kind === 6) {
      const other = choices.pick(corpus);
      const from = choices.below(other.length + 1);
      out = out.slice(0, at) + other.slice(from, from + choices.below(120)) + out.slice(at);
    } else if (choices.oneIn(4)) out = out.slice(0, at);
    if (out.length > LARGEST_INPUT) out = out.slice(0, LARGEST_INPUT);
  }
  return out;
}

type Json = null | boolean | number | string | readonly Json[] | { readonly [name: string]: Json };

/** A copy of plain data with about one value in `rarity` made hostile, left out, doubled or wrapped. */
export function mutateJson(choices: Choices, value: unknown, rarity: number): unknown {
  if (choices.oneIn(rarity)) return hostile(choices, value);
  if (Array.isArray(value)) {
    const items = value.map((item) => mutateJson(choices, item, rarity));
    if (choices.oneIn(rarity)) items.splice(choices.below(items.length + 1), 1);
    if (choices.oneIn(rarity) && items.length > 0) items.push(choices.pick(items));
    return items;
  }
  if (typeof value === 'object' && value !== null) {
    const entries = Object.entries(value).map(([name, inner]): [string, unknown] => [
      choices.oneIn(rarity * 4) ? choices.pick(HOSTILE_TEXTS) : name,
      mutateJson(choices, inner, rarity),
    ]);
    return Object.fromEntries(entries.filter(() => !choices.oneIn(rarity * 4)));
  }
  return value;
}

function hostile(choices: Choices, value: unknown): unknown {
  switch (choices.below(9)) {
    case 0:
      return null;
    case 1:
      return choices.pick(HOSTILE_TEXTS);
    case 2:
      return [];
    case 3:
      return [value];
    case 4:
      return { value };
    case 5:
      return choices.pick(HOSTILE_TEXTS).repeat(choices.below(choices.oneIn(10) ? 3000 : 30));
    case 6:
      return typeof value === 'string' ? value.slice(0, choices.below(value.length + 1)) : true;
    default:
      return choices.pick(HOSTILE_NUMBERS);
  }
}

/** Lists in lists, or objects in objects, so many deep. */
export function nested(choices: Choices, depth: number): Json {
  let value: Json = 0;
  const isList = choices.oneIn(2);
  for (let level = 0; level < depth; level++) value = isList ? [value] : { a: value };
  return value;
}
