/** The guide-tone line: thirds and sevenths in half notes. */

import {
  beatsPerBar,
  type Form,
  isCompound,
  type Meter,
  quartersPerBeat,
} from '../../chart/index.ts';
import { TWELFTHS } from '../../grading/free-line.ts';
import { hasPc } from '../../grading/index.ts';
import type { BeatRhythm, RhythmPart } from '../rhythm.ts';
import { chanceAt, STREAM } from '../taste/noise.ts';
import type { Register } from '../wish.ts';
import type { DrillFrame } from './scale-rules.ts';
import { startKeys } from './start-keys.ts';
import type { LineOutcome } from './target-line.ts';
import { isIn, keysIn } from './tones.ts';

/** Beats of a half note; in a compound meter it is a dotted one. */
function halfNoteBeats(meter: Meter): number {
  return isCompound(meter) ? 2 : 2 / quartersPerBeat(meter);
}

/**
 * Half notes from the start of each bar and of each chord; an odd beat left before the next of those is a note of one beat.
 * Own rule for odd beats.
 */
export function halfNotes(form: Form, choruses: number): readonly BeatRhythm[] {
  const chorus = form.bars.flatMap(({ meter, chords }) => {
    const beats = Array.from({ length: beatsPerBar(meter) }, (): RhythmPart[] => []);
    const half = halfNoteBeats(meter);
    for (const { beat, beats: length } of chords) {
      for (let held = 0; held < length; held += half) {
        const from = beat - 1 + held;
        const part = { at: (from % 1) * TWELFTHS, isRest: false };
        const lasting = Math.min(half, length - held) * TWELFTHS;
        beats[Math.floor(from)]?.push({ ...part, length: lasting });
      }
    }
    return beats;
  });
  return Array.from({ length: choruses }, () => chorus).flat();
}

/**
 * Third and seventh of each chord (what stands for them in a chord without one, as elsewhere in `line`). Where the guide
 * tones are others than before, the nearest of them, a common tone held; where they stay, the other one, nearest key; a
 * chord with one guide tone keeps it. The lower key at a tie. Where a voice steps out of the register and only a leap would
 * stay in it, the voice goes on an octave away: a shift is less of a break than a leap to the other voice. Without a
 * key to begin on, the seed chooses one of the two in the middle of the register. Common practice, no source; ties and the
 * beginning are our own.
 */
export function guideLine({ places, wish }: DrillFrame, seed: number): LineOutcome {
  const midis: number[] = [];
  for (const [slot, { guideMask }] of places.entries()) {
    const keys = keysIn(guideMask, wish.register);
    if (guideMask === 0) return { ok: false, atSlot: slot, rule: 'guideTone' };
    if (keys.length === 0) return { ok: false, atSlot: slot, rule: 'register' };
    const from = midis.at(-1);
    if (from === undefined) {
      const isOpen = wish.startMidi === null && (wish.afterMidi ?? null) === null;
      const [first] = isOpen ? [middleKey(keys, wish.register, seed)] : startKeys(guideMask, wish);
      if (first === undefined) {
        return { ok: false, atSlot: slot, rule: wish.startMidi === null ? 'oneTone' : 'start' };
      }
      midis.push(first);
      continue;
    }
    const stays = guideMask === places[slot - 1]?.guideMask && hasPc(guideMask, from % 12);
    const mask = stays ? guideMask & ~(1 << (from % 12)) : guideMask;
    midis.push(nearestVoice(mask, wish.register, from) ?? from);
  }
  return { ok: true, midis };
}

/** The widest steps and thirds in semitones. Source: `docs/grading.md`, "Intervals". */
const WHOLE_STEP = 2;
const THIRD = 4;
const OCTAVE = 12;

function nearestVoice(mask: number, register: Register, from: number): number | undefined {
  const near = nearestKey(keysIn(mask, register), from);
  if (near !== undefined && Math.abs(near - from) <= THIRD) return near;
  const around = { lowestMidi: from - WHOLE_STEP, highestMidi: from + WHOLE_STEP };
  const stepped = nearestKey(keysIn(mask, around), from);
  if (stepped === undefined) return near;
  const shifted = stepped < from ? stepped + OCTAVE : stepped - OCTAVE;
  return isIn(register, shifted) ? shifted : near;
}

/** The key nearest to a place, the lower one at a tie; undefined where there is none. */
function nearestKey(keys: readonly number[], to: number): number | undefined {
  return [...keys].sort(
    (one, other) => Math.abs(one - to) - Math.abs(other - to) || one - other,
  )[0];
}

function middleKey(
  keys: readonly number[],
  { lowestMidi, highestMidi }: Register,
  seed: number,
): number | undefined {
  const pcs = [...new Set(keys.map((midi) => midi % 12))].sort((one, other) => one - other);
  const pc = pcs[Math.floor(chanceAt(seed, STREAM.drill, 0) * pcs.length)];
  return nearestKey(
    keys.filter((midi) => midi % 12 === pc),
    (lowestMidi + highestMidi) / 2,
  );
}
