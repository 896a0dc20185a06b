/** What a key costs at its place, whatever came before it. */

import { hasPc } from '../../grading/index.ts';
import { type Key, keyFifths } from '../../theory/key.ts';
import { pcMask } from '../../theory/palette.ts';
import { tonePc } from '../../theory/tone.ts';
import type { LineEntry } from '../legal/entries.ts';
import type { Register } from '../wish.ts';
import { createHeight } from './height.ts';
import type { Weights } from './weights.ts';

/** The facts of a place that the costs are made from. */
export interface TastePlace {
  readonly entry: LineEntry;
  /** How strong its beat is: 1 where a bar or a chord begins, less on other beats, 0 between beats. */
  readonly strength: number;
  readonly beginsChord: boolean;
  readonly guideMask: number;
  /** Under `N.C.`: the palette heard last, before any the key's scale, in which the line stays at home. */
  readonly homeMask: number;
}

/** How strong the beats inside a bar are against its first. Common practice, no source. */
const INNER_BEAT = 0.8;

/** Adds strength, chord and home to the entries of a line. In: for each chord of a chorus its guide tones; the form's key. */
export function tastePlaces(
  entries: readonly LineEntry[],
  guideMasks: readonly number[],
  key: Key,
): readonly TastePlace[] {
  let homeMask = signatureMask(key);
  let lastOrdinal: number | null = null;
  return entries.map((entry) => {
    const beginsChord = entry.ordinal !== lastOrdinal;
    lastOrdinal = entry.ordinal;
    homeMask = entry.palette?.mask ?? homeMask;
    const { beat, sub } = entry.place;
    const strength = beginsChord ? 1 : sub !== 0 ? 0 : beat === 1 ? 1 : INNER_BEAT;
    const guides = guideMasks[entry.ordinal % guideMasks.length] ?? 0;
    return { entry, strength, beginsChord, guideMask: guides, homeMask };
  });
}

/** The seven tones of a key's signature, as pitch classes. */
function signatureMask(key: Key): number {
  const lowest = keyFifths(key) - 1;
  return pcMask(Array.from({ length: 7 }, (_, fifth) => tonePc(lowest + fifth)));
}

/**
 * The cost of a key at a place. Terms: a chord tone on beats; a third or seventh where a chord begins (common practice, no
 * source for either); nearness to the wandering middle of the register; under `N.C.` the palette heard last (own rule).
 */
export function createPlaceCost(
  weights: Weights,
  register: Register,
  seed: number,
): (place: TastePlace, midi: number) => number {
  const height = createHeight(register, seed);
  return ({ entry, strength, beginsChord, guideMask, homeMask }, midi) => {
    const pc = midi % 12;
    const { chordMask } = entry.chord;
    let cost = weights.edge * height(entry.beatsIn, midi);
    if (chordMask !== 0 && !hasPc(chordMask, pc)) cost += weights.chordTone * strength;
    if (beginsChord && guideMask !== 0 && !hasPc(guideMask, pc)) cost += weights.guideTone;
    if (entry.palette === null && !hasPc(homeMask, pc)) cost += weights.foreign;
    return cost;
  };
}
