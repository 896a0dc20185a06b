/** Refusals of what was played that asking again does not change. */

import type { Refusal } from '../../../shared/bridge/index.ts';

const FINAL: ReadonlySet<Refusal['code']> = new Set(['notFound', 'badRequest', 'tooLarge']);

/** Whether the take is not there, or what is sent is not understood; anything else may pass. */
export function isFinal({ code }: Refusal): boolean {
  return FINAL.has(code);
}
