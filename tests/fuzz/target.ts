/** What is fuzzed: how an input is made, and what must hold for it. */

import type { Choices } from './chance.ts';

export type Verdict = 'accepted' | 'refused';

export interface FuzzInput {
  /** Bytes, or characters of text. */
  readonly size: number;
  /** Feeds the program and checks what comes back; throws when something is wrong with it. */
  run(): Verdict | Promise<Verdict>;
}

export interface FuzzTarget {
  readonly name: string;
  /** Its share of a run, in inputs per thousand. */
  readonly share: number;
  make(choices: Choices): FuzzInput;
}

/** For the checks of a target. */
export function must(isTrue: boolean, what: string): asserts isTrue {
  if (!isTrue) throw new Error(what);
}

export function sameJson(one: unknown, other: unknown): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}

/** The value unless it is missing, which is a slip of the test's own. */
export function present<Value>(value: Value | undefined | null): Value {
  if (value === undefined || value === null) throw new Error('a value of the test is missing');
  return value;
}
