/** A refused call in words: what happened, and what to do. */

import type { Refusal } from '../../../shared/bridge/index.ts';

export function refusalWords({ message, remedy }: Refusal): string {
  return `${message} ${remedy}`;
}
