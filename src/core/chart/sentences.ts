/** Problems in words. Tests assert codes and places; the wording here is free to improve. */

import type { TextProblem } from '../problem.ts';

/** One sentence or two: what was read, what was expected, and the nearest spelling when there is one. */
export function describeProblem(problem: TextProblem): string {
  const base = `Read ${quote(problem.read)}, expected ${problem.expected}.`;
  return problem.suggestion === null ? base : `${base} Did you mean ${quote(problem.suggestion)}?`;
}

function quote(text: string): string {
  return `“${text}”`;
}
