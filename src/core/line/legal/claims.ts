/**
 * What a note leaves its successor to make good. Whether a note is inside a two-way palette, and whether an outside
 * note is excused, is told by the next one or two notes; while a line is written from left to right, a note that is
 * not settled by itself makes a claim, and only successors that make it true may follow.
 * Source of the rules: `grading.md`, "Palette".
 */

/** In which directions the next note may lie, and what it must be. */
export interface Claim {
  readonly rising: boolean;
  readonly same: boolean;
  readonly falling: boolean;
  /** The next note lies exactly a semitone away. */
  readonly semitone: boolean;
  /** The next note must be inside its own palette. */
  readonly inside: boolean;
  /** The next note must make this claim itself (index into `CLAIMS`), or null. */
  readonly next: number | null;
}

const FREE: Claim = {
  rising: true,
  same: true,
  falling: true,
  semitone: false,
  inside: false,
  next: null,
};
const RESOLVE: Claim = { ...FREE, same: false, semitone: true, inside: true };

/** Indices into `CLAIMS`. */
export const CLAIM = {
  none: 0,
  /** A degree that differs rising and falling: the next move must be the way its form goes. */
  rise: 1,
  fall: 2,
  /** The same, after a move the same way: a repeat keeps that direction. */
  riseOrStay: 3,
  fallOrStay: 4,
  /** An outside note a semitone from an inside one. */
  resolve: 5,
  resolveUp: 6,
  resolveDown: 7,
  /** The first of two outside notes moving by semitone into the palette. */
  passUp: 8,
  passDown: 9,
} as const;

export const CLAIMS: readonly Claim[] = [
  FREE,
  { ...FREE, falling: false, same: false },
  { ...FREE, rising: false, same: false },
  { ...FREE, falling: false },
  { ...FREE, rising: false },
  RESOLVE,
  { ...RESOLVE, falling: false },
  { ...RESOLVE, rising: false },
  { ...RESOLVE, falling: false, inside: false, next: CLAIM.resolveUp },
  { ...RESOLVE, rising: false, inside: false, next: CLAIM.resolveDown },
];

/** Whether a claim is about an outside note, which a successor must excuse. */
export function isDebt(claim: number): boolean {
  return claim >= CLAIM.resolve;
}

/** Whether a move of so many semitones (signed) is one the claim lets follow. */
export function allowsMove(claim: Claim, semitones: number): boolean {
  if (claim.semitone && semitones !== 1 && semitones !== -1) return false;
  if (semitones > 0) return claim.rising;
  return semitones < 0 ? claim.falling : claim.same;
}
