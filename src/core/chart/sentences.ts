/** Problems in words. Tests assert codes and places; the wording here is free to improve. */

import type { TextProblem } from '../problem.ts';

type Described = Pick<TextProblem, 'read' | 'expected' | 'suggestion'>;

/** What was read and what was expected, as one sentence; the place and the suggestion are left to the caller. */
export function describeMismatch({ read, expected }: Described): string {
  return `Read ${quote(read)}, expected ${expected}.`;
}

/** One sentence, and the nearest spelling as a second one when there is one. */
export function describeProblem(problem: Described): string {
  const mismatch = describeMismatch(problem);
  const { suggestion } = problem;
  return suggestion === null ? mismatch : `${mismatch} Did you mean ${quote(suggestion)}?`;
}

function quote(text: string): string {
  return `“${text}”`;
}
