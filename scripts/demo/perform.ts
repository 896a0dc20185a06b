/** A written line played by a human hand: spread, lead, drag, accents, legato; and the left hand under it. */

import type { Form } from '../../src/core/chart/index.ts';
import { createBeatClock, createSlotGrid } from '../../src/core/grid/index.ts';
import type { TakeEvent, TakeEvents } from '../../src/core/take/model.ts';
import { plainTake } from '../../src/core/take/sources.ts';
import { tonePc } from '../../src/core/theory/index.ts';
import { type DemoTake, plantedAt } from './faults.ts';
import type { LineNote } from './line.ts';
import { type Chance, seededChance } from './random.ts';

/** No onset strays further than this by chance, so that only planted faults leave the tolerance. */
const FURTHEST_MS = 38;

/** Plays a line. Faults of time and of the left hand are planted here; those of pitch are in the line already. */
export function perform(form: Form, take: DemoTake, line: readonly LineNote[]): TakeEvents {
  const chance = seededChance(take.seed * 1000 + 1);
  const clock = createBeatClock(form, { kind: 'steady', tempoBpm: take.tempoBpm });
  const grid = createSlotGrid(form, clock, { slotsPerBeat: null, swing: 1, choruses: null });
  const slotMs = grid.timeMs(1) - grid.timeMs(0);
  const events: TakeEvent[] = [];
  const rhythm = take.level === 'free' ? freeRhythm(line.length, chance) : null;

  for (const { slot, place, midi } of line) {
    if (plantedAt(take, 'gap', place) || rhythm?.[slot] === 0) continue;
    const bars = (slot / grid.slotsPerChorus) * form.bars.length;
    const stray = Math.max(-FURTHEST_MS, Math.min(FURTHEST_MS, take.spreadMs * chance.normal()));
    const hesitationMs = plantedAt(take, 'hesitation', place)?.byMs ?? 0;
    const atMs =
      grid.timeMs(slot) + take.lagMs + take.dragMsPerBar * bars + (hesitationMs || stray);
    const accent = place.sub === 0 ? 7 : 0;
    const velocity = Math.round(Math.max(35, Math.min(110, 62 + accent + 7 * chance.normal())));
    const held = (rhythm?.[slot] ?? 1) - 0.1 + 0.14 * chance.next();
    const holdMs = Math.max(60, held * slotMs - hesitationMs);
    pushKey(events, atMs, midi, velocity, holdMs);
    if (plantedAt(take, 'double', place)) {
      pushKey(events, atMs + 11, midi + 1, Math.round(velocity * 0.6), 80);
    }
  }
  if (take.splitMidi !== null) events.push(...leftHand(form, take, chance));
  const sorted = events.sort((a, b) => a.atMs - b.atMs);
  return plainTake(sorted, (sorted.at(-1)?.atMs ?? 0) + 500);
}

function pushKey(
  events: TakeEvent[],
  atMs: number,
  midi: number,
  velocity: number,
  holdMs: number,
): void {
  events.push({ kind: 'noteOn', atMs, midi, velocity });
  events.push({ kind: 'noteOff', atMs: atMs + holdMs, midi });
}

/** For each slot how many slots its note lasts, 0 where none begins: short phrases, long notes and rests. */
function freeRhythm(slots: number, chance: Chance): readonly number[] {
  const lengths: number[] = Array(slots).fill(0);
  let slot = 0;
  while (slot < slots) {
    const roll = chance.next();
    const length = roll < 0.6 ? 1 : roll < 0.85 ? 2 : 3;
    lengths[slot] = Math.min(length, slots - slot);
    slot += length;
    if (chance.next() < 0.12) slot += 2 + Math.floor(chance.next() * 3);
  }
  return lengths;
}

/** Root below, third and seventh above it, at the start of each chord. */
function leftHand(form: Form, take: DemoTake, chance: Chance): readonly TakeEvent[] {
  const clock = createBeatClock(form, { kind: 'steady', tempoBpm: take.tempoBpm });
  const events: TakeEvent[] = [];
  let beatsIn = 0;
  for (let chorus = 1; chorus <= take.choruses; chorus++) {
    for (const bar of form.bars) {
      for (const { beat, beats, symbol } of bar.chords) {
        const startMs = clock.timeMs(beatsIn);
        const holdMs = (clock.timeMs(beatsIn + beats) - startMs) * 0.92;
        beatsIn += beats;
        if (symbol === null) continue;
        const place = { chorus, bar: bar.bar, beat, sub: 0 };
        const wrong = plantedAt(take, 'bassOther', place) ? 5 : 0;
        const bassPc = (tonePc(symbol.bass ?? symbol.root) + wrong) % 12;
        const shell = symbol.tones.filter(({ degree }) => degree === 3 || degree === 7);
        const keys = shell.map(({ interval }) => keyAbove(46, tonePc(symbol.root + interval)));
        if (!plantedAt(take, 'bassMissing', place)) keys.unshift(keyAbove(36, bassPc));
        else keys.length = 0;
        for (const midi of keys) {
          const atMs = startMs + take.lagMs + 8 * chance.normal();
          pushKey(events, atMs, midi, Math.round(48 + 5 * chance.normal()), holdMs);
        }
      }
    }
  }
  return events;
}

/** The lowest key of a pitch class at or above a key. */
function keyAbove(lowest: number, pc: number): number {
  return lowest + ((((pc - lowest) % 12) + 12) % 12);
}
