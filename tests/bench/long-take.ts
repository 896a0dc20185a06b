/** A long invented take, the same at every run: a sloppy line over two chords, with spares, gaps and doubles. */

import { createBeatClock, createSlotGrid } from '../../src/core/grid/index.ts';
import type { TakeEvent, TakeEvents } from '../../src/core/take/model.ts';
import { plainTake } from '../../src/core/take/sources.ts';
import { bar, C_BOTH_WAYS, C_DORIAN, C_IONIAN, formOf } from '../helpers/hand-made.ts';

export const BENCH_FORM = formOf([
  bar(C_IONIAN),
  bar(C_DORIAN),
  bar(C_BOTH_WAYS),
  [
    { beats: 2, palette: C_IONIAN },
    { beats: 2, palette: C_DORIAN },
  ],
]);

export const BENCH_TEMPO = { kind: 'steady', tempoBpm: 120 } as const;

/** Mulberry32, a public-domain generator of 32-bit state; good enough to be sloppy with. */
export function randomNumbers(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state + 0x6d2b79f5) | 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4_294_967_296;
  };
}

/** A take of a number of notes, in order of time. */
export function longTake(notes: number): TakeEvents {
  const random = randomNumbers(7);
  const grid = createSlotGrid(BENCH_FORM, createBeatClock(BENCH_FORM, BENCH_TEMPO), {
    slotsPerBeat: null,
    swing: 1,
    choruses: null,
  });
  const events: TakeEvent[] = [];
  let midi = 60;
  for (let slot = 0; events.length < 2 * notes; slot++) {
    if (random() < 0.01) continue;
    midi = Math.min(84, Math.max(50, midi + Math.round((random() - 0.5) * 5)));
    const atMs = grid.timeMs(slot) + (random() - 0.5) * 60;
    pushKey(events, atMs, midi, random);
    if (random() < 0.01) pushKey(events, atMs + 15, midi + 4, random);
  }
  return plainTake(
    events.sort((a, b) => a.atMs - b.atMs),
    grid.timeMs(2 * notes),
  );
}

function pushKey(events: TakeEvent[], atMs: number, midi: number, random: () => number): void {
  const velocity = 50 + Math.floor(random() * 60);
  events.push({ kind: 'noteOn', atMs, midi, velocity });
  events.push({ kind: 'noteOff', atMs: atMs + 150 + random() * 80, midi });
}
