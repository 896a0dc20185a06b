import type { TakeSetUp } from './shapes.ts';

/** What a take was played on, whatever practice a reading has moved it to since: what it is to be graded with. */
export function asPlayed({ keyAsSet, ...setUp }: TakeSetUp): TakeSetUp {
  return { ...setUp, key: keyAsSet ?? setUp.key };
}
