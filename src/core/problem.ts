/**
 * What a user's input can get wrong, as values. A problem says where it is, what was read there, what was
 * expected and what to do; nothing a user can feed the program makes `src/core` throw. Sentences are made in
 * `sentences.ts` of the module that finds the problem, so that tests assert codes and places, not wording.
 */

/** A place in text; both count from 1, columns in UTF-16 code units. */
export interface TextPlace {
  readonly line: number;
  readonly column: number;
}

/**
 * A problem in text: the place, what stood there, what would have been right, and the nearest known spelling
 * (null when nothing is near). `code` is stable and names the rule that was broken.
 */
export interface TextProblem<Code extends string = string> extends TextPlace {
  readonly code: Code;
  readonly read: string;
  readonly expected: string;
  readonly suggestion: string | null;
}

/** A problem in bytes: the offset from the start of the file (from 0), what is wrong there and the remedy. */
export interface ByteProblem<Code extends string = string> {
  readonly code: Code;
  readonly byteOffset: number;
  readonly read: string;
  readonly remedy: string;
}

/** Either the value, or every problem that stood in its way; never both. */
export type Outcome<Value, Problem> =
  | { readonly ok: true; readonly value: Value }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** Wraps a value as a successful outcome. */
export function success<Value>(value: Value): { readonly ok: true; readonly value: Value } {
  return { ok: true, value };
}

/** Wraps problems (at least one) as a failed outcome. */
export function failure<Problem>(...problems: readonly Problem[]): {
  readonly ok: false;
  readonly problems: readonly Problem[];
} {
  return { ok: false, problems };
}
