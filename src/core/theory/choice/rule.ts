/** What a rule of the choice is. */

import type { Place } from './place.ts';

/** A scale on the chord's root, and one line a player can read that says why. */
export interface Offer {
  readonly scale: string;
  readonly reason: string;
}

/**
 * Rules are asked in order, and every rule that holds adds its offers behind those before it. `keyFirst` puts the
 * offer that shares most notes with the key signature first; equal ones keep their order.
 */
export interface PaletteRule {
  readonly when: (place: Place) => boolean;
  readonly offers: readonly Offer[];
  readonly keyFirst?: boolean;
}

export const always = (): boolean => true;

/** Holds in a major key on any of the degrees. */
export function inMajor(...degrees: readonly number[]): (place: Place) => boolean {
  return ({ mode, degree }) => mode === 'major' && degrees.includes(degree);
}

/** Holds in a minor key on any of the degrees. */
export function inMinor(...degrees: readonly number[]): (place: Place) => boolean {
  return ({ mode, degree }) => mode === 'minor' && degrees.includes(degree);
}

/** Holds when the chord has at least one of the tones. */
export function hasAny(...names: readonly string[]): (place: Place) => boolean {
  return ({ tones }) => names.some((name) => tones.has(name));
}

/** Holds when every condition does. */
export function all(
  ...conditions: readonly ((place: Place) => boolean)[]
): (place: Place) => boolean {
  return (place) => conditions.every((condition) => condition(place));
}

/** Holds when any condition does. */
export function any(
  ...conditions: readonly ((place: Place) => boolean)[]
): (place: Place) => boolean {
  return (place) => conditions.some((condition) => condition(place));
}

/** Holds when the condition does not. */
export function not(condition: (place: Place) => boolean): (place: Place) => boolean {
  return (place) => !condition(place);
}
