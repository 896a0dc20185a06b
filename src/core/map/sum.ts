/** Sums over maps. */

import type { ChartMap, ChordCounts, Tally, ToneCounts } from './model.ts';

/** The map of two lots of takes over the same form. Throws for maps of different forms. */
export function addMaps(one: ChartMap, other: ChartMap): ChartMap {
  if (one.chords.length !== other.chords.length) throw new Error('maps of different forms');
  return {
    chords: one.chords.map((chord, index) => addChords(chord, other.chords[index] ?? chord)),
    changes: one.changes.map(({ place, intervals }, index) => ({
      place,
      intervals: addTallies(intervals, other.changes[index]?.intervals ?? {}),
    })),
    runs: addTallies(one.runs, other.runs),
    turns: one.turns + other.turns,
  };
}

function addChords(one: ChordCounts, other: ChordCounts): ChordCounts {
  return {
    place: one.place,
    tones: one.tones.map((tone, index) => addTones(tone, other.tones[index] ?? tone)),
    outside: one.outside + other.outside,
  };
}

function addTones(one: ToneCounts, other: ToneCounts): ToneCounts {
  if (one.pc !== other.pc) throw new Error('maps of different palettes');
  return {
    pc: one.pc,
    onBeat: one.onBeat + other.onBeat,
    offBeat: one.offBeat + other.offBeat,
    rising: one.rising + other.rising,
    falling: one.falling + other.falling,
    arrivals: one.arrivals + other.arrivals,
    departures: one.departures + other.departures,
    keys: addTallies(one.keys, other.keys),
  };
}

function addTallies(one: Tally, other: Tally): Tally {
  const keys = [...new Set([...Object.keys(one), ...Object.keys(other)])];
  keys.sort((a, b) => Number(a) - Number(b));
  return Object.fromEntries(keys.map((key) => [key, (one[key] ?? 0) + (other[key] ?? 0)]));
}

/** All counts of a tally together. */
export function total(tally: Tally): number {
  return Object.values(tally).reduce((sum, count) => sum + count, 0);
}

/** How often a tone was played. */
export function timesPlayed({ onBeat, offBeat }: Pick<ToneCounts, 'onBeat' | 'offBeat'>): number {
  return onBeat + offBeat;
}

/** Notes on the tones of a chord's palette. */
export function notesOn({ tones }: ChordCounts): number {
  return tones.reduce((sum, tone) => sum + timesPlayed(tone), 0);
}

/** Moves in the longest run without a turn; 0 where there is none. */
export function longestRun({ runs }: Pick<ChartMap, 'runs'>): number {
  return Object.keys(runs).reduce((longest, moves) => Math.max(longest, Number(moves)), 0);
}
