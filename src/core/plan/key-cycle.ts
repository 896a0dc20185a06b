/** Keys in the order they are practised: a cycle that visits every key it can reach once before it comes round. */

import { scatter } from '../chance.ts';
import { type Key, keyFifths } from '../theory/key.ts';

export const KEY_CYCLES = [
  'fourths',
  'fifths',
  'semitonesUp',
  'semitonesDown',
  'wholeTones',
  'minorThirds',
  'random',
] as const;
export type KeyCycle = (typeof KEY_CYCLES)[number];

/** Steps on the line of fifths; each is the named interval upwards but for the falling ones. */
const STEP: Readonly<Record<Exclude<KeyCycle, 'random'>, number>> = {
  fourths: -1,
  fifths: 1,
  semitonesUp: 7,
  semitonesDown: -7,
  wholeTones: 2,
  minorThirds: -3,
};

const KEYS = 12;
/** A signature of more sharps or flats takes its other name; of six it is written with flats. Common practice, no source. */
const MOST_SHARPS = 5;
const MOST_FLATS = 6;
/** When whole tones or minor thirds have come round, the cycle goes on a semitone higher. */
const SEMITONE = 7;

/**
 * The keys of a cycle in order, each once, all in the mode of the first and beginning with it as it is named. Whole
 * tones and minor thirds come round after six and four keys: with `all` they go on from the next key a semitone up
 * that is still missing, until all twelve have come; without, that round is the cycle. The other cycles have all twelve
 * either way. `random` is a shuffle by the seed (any whole number): the same seed gives the same order.
 */
export function keyCycle(key: Key, cycle: KeyCycle, seed = 0, all = true): readonly Key[] {
  if (cycle === 'random') return [key, ...shuffled(otherKeys(key), seed)];
  const keys: Key[] = [];
  const seen = new Set<number>();
  let tonic = key.tonic;
  while (keys.length < KEYS) {
    if (seen.has(place(tonic)) && !all) break;
    while (seen.has(place(tonic))) tonic += SEMITONE;
    seen.add(place(tonic));
    keys.push(keys.length === 0 ? key : named({ ...key, tonic }));
    tonic += STEP[cycle];
  }
  return keys;
}

/**
 * The key after another in a cycle that began with `first`, by the same seed and extent; after the last one the first
 * again, and so after a key that is not in the cycle.
 */
export function nextKey(first: Key, present: Key, cycle: KeyCycle, seed = 0, all = true): Key {
  const keys = keyCycle(first, cycle, seed, all);
  const at = keys.findIndex(({ tonic }) => place(tonic) === place(present.tonic));
  return keys[(at + 1) % keys.length] ?? first;
}

/** The place of a tonic among the twelve, whatever its name. */
function place(tonic: number): number {
  return ((tonic % KEYS) + KEYS) % KEYS;
}

function named(key: Key): Key {
  const fifths = keyFifths(key);
  const turns = Math.ceil((fifths - MOST_SHARPS) / KEYS);
  const back = Math.ceil((-MOST_FLATS - fifths) / KEYS);
  return { ...key, tonic: key.tonic - KEYS * Math.max(0, turns) + KEYS * Math.max(0, back) };
}

function otherKeys(key: Key): readonly Key[] {
  return Array.from({ length: KEYS - 1 }, (_, index) =>
    named({ ...key, tonic: key.tonic + index + 1 }),
  );
}

/** Fisher–Yates (Durstenfeld's form, from memory). */
function shuffled(keys: readonly Key[], seed: number): readonly Key[] {
  const deck = [...keys];
  for (let left = deck.length; left > 1; left--) {
    const pick = Math.floor(((scatter(seed + left * SEED_STRIDE) >>> 0) / 2 ** 32) * left);
    const [one, other] = [deck[left - 1], deck[pick]];
    if (one !== undefined && other !== undefined) {
      deck[left - 1] = other;
      deck[pick] = one;
    }
  }
  return deck;
}

/** Sets the draws of one shuffle apart: the golden ratio's share of 32 bits, as usual in hashing. */
const SEED_STRIDE = 0x9e3779b9;
