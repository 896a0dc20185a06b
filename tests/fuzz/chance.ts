/** Choices made by seeded chance: the same seed makes the same input on every machine. */

import { seededChance } from '../../scripts/demo/random.ts';

export interface Choices {
  /** A whole number from 0 up to, not including, `count`. */
  below(count: number): number;
  /** True once in so many times. */
  oneIn(times: number): boolean;
  /** One of a list that is not empty. */
  pick<Value>(values: readonly Value[]): Value;
}

/** The choices for one input of a target; each input has its own, so that it can be made again alone. */
export function choicesFor(target: string, seed: number, index: number): Choices {
  let mixed = seed >>> 0;
  for (const letter of `${target} ${index}`) {
    mixed = Math.imul(mixed ^ (letter.codePointAt(0) ?? 0), 0x01000193) >>> 0;
  }
  const chance = seededChance(mixed);
  const below = (count: number): number => Math.floor(chance.next() * count);
  return {
    below,
    oneIn: (times) => below(times) === 0,
    pick(values) {
      const value = values[below(values.length)];
      if (value === undefined) throw new Error('there is nothing to pick from');
      return value;
    },
  };
}

/** Numbers at which readers break: edges of integers and doubles, and what is no number. */
export const HOSTILE_NUMBERS: readonly number[] = [
  0,
  -0,
  1,
  -1,
  0.5,
  127,
  128,
  255,
  256,
  400,
  65_535,
  65_536,
  2 ** 31 - 1,
  2 ** 31,
  2 ** 32,
  Number.MAX_SAFE_INTEGER,
  -Number.MAX_SAFE_INTEGER,
  2 ** 53,
  1e9,
  -1e9,
  1e15,
  1e300,
  -1e308,
  5e-324,
  Number.MAX_VALUE,
];

/** Text at which readers break: empty, invisible, right to left, half a character, names of inherited members. */
export const HOSTILE_TEXTS: readonly string[] = [
  '',
  ' ',
  '\0',
  '\t',
  '\r\n',
  '\u2028',
  '\uFEFF',
  '\u202Eabc',
  '\uD800',
  '\uDC00x',
  '😀',
  'é',
  'e\u0301',
  '__proto__',
  'constructor',
  'toString',
  'null',
  'NaN',
  '-1',
  '1e9',
  '=1+1',
  '<script>alert(1)</script>',
  '../../etc/passwd',
  '%2e%2e',
  "'; DROP TABLE takes; --",
  '&amp;',
  '&#0;',
  '&x;',
  ']]>',
  '{{',
];
