/** A line that steps at random: what a map is set beside to tell a hole from chance. */

import { scatter } from '../chance.ts';
import type { Form } from '../chart/index.ts';
import { createBeatClock, createSlotGrid } from '../grid/index.ts';
import type { Register } from '../line/index.ts';
import type { Level, SlotsPerBeat } from '../words.ts';
import type { MapNote } from './model.ts';
import type { Stretches } from './stretches.ts';

/** How many tones of the palette one move may go at a level: no more than the grader leaves open. At `leaps` a fifth at most. */
const FURTHEST: Readonly<Record<Level, number>> = { steps: 1, thirds: 2, leaps: 4, free: 4 };

export interface WalkSettings {
  readonly level: Level;
  /** Null: eighth notes in every meter. */
  readonly slotsPerBeat: SlotsPerBeat | null;
  readonly register: Register;
  readonly seed: number;
}

/** A note on each slot of so many choruses: each time one of the moves that are open, all of them alike likely. */
export function randomWalk(
  form: Form,
  stretches: Stretches,
  { level, slotsPerBeat, register, seed }: WalkSettings,
  choruses: number,
): readonly MapNote[] {
  const clock = createBeatClock(form, { kind: 'steady', tempoBpm: 60 });
  const { slots } = createSlotGrid(form, clock, { slotsPerBeat, swing: 1, choruses: null });
  const places = slots.map(({ barIndex, beat, fraction, sub }) => ({
    stretch: stretches.at(form.bars[barIndex]?.bar ?? 0, beat + fraction),
    isOnBeat: sub === 0,
  }));
  const open = stretches.all.map(({ pcs }) => openMoves(keysOf(pcs, register), FURTHEST[level]));
  let count = 0;
  const pick = (keys: readonly number[]): number | null => {
    const chance = (scatter(seed + scatter(count++)) >>> 0) / 2 ** 32;
    return keys[Math.floor(chance * keys.length)] ?? null;
  };
  let midi: number | null = null;
  const notes: MapNote[] = [];
  for (let chorus = 0; chorus < choruses; chorus++) {
    for (const place of places) {
      const moves = open[place.stretch];
      midi = moves === undefined ? null : pick(midi === null ? moves.all : moves.from(midi));
      notes.push({ ...place, midi });
    }
  }
  return notes;
}

/** The keys of a palette in a register, from the lowest; every key where there is no palette. */
function keysOf(pcs: readonly number[], { lowestMidi, highestMidi }: Register): readonly number[] {
  const all = Array.from(
    { length: highestMidi - lowestMidi + 1 },
    (_, index) => lowestMidi + index,
  );
  return pcs.length === 0 ? all : all.filter((midi) => pcs.includes(midi % 12));
}

interface Moves {
  readonly all: readonly number[];
  /** From a key of any palette: the keys at most so far above and below it; all where there is none. */
  from(midi: number): readonly number[];
}

function openMoves(all: readonly number[], furthest: number): Moves {
  const known = new Map<number, readonly number[]>();
  return {
    all,
    from(midi) {
      const before = known.get(midi);
      if (before !== undefined) return before;
      const below = all.filter((key) => key < midi).slice(-furthest);
      const above = all.filter((key) => key > midi).slice(0, furthest);
      const near = [...below, ...above];
      const moves = near.length === 0 ? all : near;
      known.set(midi, moves);
      return moves;
    },
  };
}
