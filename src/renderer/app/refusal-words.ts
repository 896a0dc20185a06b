/** A refused call in words: what happened, and what to do. */

import type { Refusal } from '../../../shared/bridge/index.ts';
import { tellRefusal } from '../../../shared/refusal-words.ts';

export function refusalWords(refusal: Refusal): string {
  const { message, remedy } = tellRefusal(refusal);
  return `${message} ${remedy}`;
}
