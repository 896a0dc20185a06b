/** How a change shows in a line that is being written, and what a line that shows it late is charged. */

import { hasPc } from '../../grading/index.ts';
import type { LineEntry } from './entries.ts';
import type { LegalRules } from './rules.ts';
import { PROOF } from './state.ts';

/**
 * The charge for a change that is not on time, against one note of waiting for the proof. No line has as many notes as
 * this, so one change more on time outweighs any waiting.
 */
export const MISSED_CHANGE = 8192;

export interface ProofStep {
  readonly proof: number;
  readonly charge: number;
}

/** Every step there is, made once: the search asks for one at each of its edges. */
const SETTLED: ProofStep = { proof: PROOF.settled, charge: 0 };

/**
 * How the change under way stands after a pitch class at an entry, and what it costs: where it is to show as early as can be,
 * one for every note from the change on that does not prove it; `MISSED_CHANGE` where it ends late or unproven. A palette contained in the old one
 * cannot be proven: waiting for that is free. Source of the arrivals: `grading.md`, "Changes".
 */
export function proofStep(
  entry: LineEntry,
  proofAtPrevious: number,
  pc: number,
  { earliest }: LegalRules,
): ProofStep {
  const { change } = entry;
  if (change === null) return SETTLED;
  const before = entry.opensChange ? PROOF.waiting : proofAtPrevious;
  if (before === PROOF.settled || hasPc(change.newMask, pc)) return SETTLED;
  const turnsLate = before === PROOF.waiting && hasPc(change.oldMask, pc);
  const isLate = before === PROOF.late || turnsLate;
  const provable = change.newMask !== 0;
  const staysUnproven = !isLate && provable && entry.closesChange;
  return {
    proof: isLate ? PROOF.late : PROOF.waiting,
    charge: (provable && earliest ? 1 : 0) + (turnsLate || staysUnproven ? MISSED_CHANGE : 0),
  };
}
