/** What becomes of each thing that comes in: counted, and told where a player may wonder. */

import { createHash } from 'node:crypto';
import type { ImportResult, Merged } from '../../../../shared/bridge/index.ts';

type Counts = { -readonly [Kind in keyof ImportResult['added']]: number };

export interface Tally {
  readonly added: Counts;
  readonly alreadyHere: Counts;
  readonly told: Merged[];
}

/** How many remarks are told one by one. */
const MOST_TOLD = 200;

export function createTally(): Tally {
  const none = (): Counts => ({ charts: 0, takes: 0, settings: 0, devices: 0 });
  return { added: none(), alreadyHere: none(), told: [] };
}

export function resultOf({ added, alreadyHere, told }: Tally): ImportResult {
  const untold = Math.max(0, told.length - MOST_TOLD);
  return { added, alreadyHere, told: told.slice(0, MOST_TOLD), untold };
}

/** The id of what is kept beside another of its id: always the same for the same, so that it comes in once. */
export function derivedId(...parts: readonly string[]): string {
  return createHash('sha256').update(JSON.stringify(parts)).digest('hex').slice(0, 32);
}
