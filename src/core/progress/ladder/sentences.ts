/** Rungs in words. */

import type { Rung } from './ladder.ts';

/** Where a rung stands, in one sentence, with the tempos it is told from. */
export function describeRung({ state, heldBpm, holdsBpm, goalBpm }: Rung): string {
  const goal = goalBpm === null ? 'no goal is set' : `the goal is ${goalBpm}`;
  switch (state) {
    case 'notBegun':
      return `Not begun; ${goal}.`;
    case 'done':
      return holdsBpm !== null && goalBpm !== null && holdsBpm >= goalBpm
        ? `Holds at ${holdsBpm}; ${goal}.`
        : `Has held at ${heldBpm}, not shown in the last month; ${goal}.`;
    case 'goingOn':
      if (holdsBpm !== null) return `Holds at ${holdsBpm}; ${goal}.`;
      return heldBpm === null
        ? `No tempo holds yet; ${goal}.`
        : `Has held at ${heldBpm}, not shown in the last month; ${goal}.`;
  }
}
