/**
 * All that the rules need to know of a line so far, in one small number: the last key, what it claims of the next note,
 * how the change under way stands, and whether the line-up allowance has been taken.
 */

/** How a change under way stands. */
export const PROOF = { settled: 0, waiting: 1, late: 2 } as const;

/** The line-up allowance: bit 0 for the change just passed, bit 1 for the one that follows this note. */
export const TAKEN = { passed: 1, coming: 2 } as const;

const CLAIM_SHIFT = 7;
const PROOF_SHIFT = 11;
const TAKEN_SHIFT = 13;

/** States are below this number. */
export const STATE_LIMIT = 1 << 15;

export function packState(midi: number, claim: number, proof: number, taken: number): number {
  return midi | (claim << CLAIM_SHIFT) | (proof << PROOF_SHIFT) | (taken << TAKEN_SHIFT);
}

export function midiOf(state: number): number {
  return state & 0x7f;
}

export function claimOf(state: number): number {
  return (state >> CLAIM_SHIFT) & 0xf;
}

export function proofOf(state: number): number {
  return (state >> PROOF_SHIFT) & 0x3;
}

export function takenOf(state: number): number {
  return (state >> TAKEN_SHIFT) & 0x3;
}
