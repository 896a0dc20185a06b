/** What the bass and the chord pad play, following the chords of the plan. Pure. */

import type { Form } from '../../core/chart/index.ts';
import type { BeatClock } from '../../core/grid/index.ts';
import { type ChordSymbol, chordPcs, tonePc } from '../../core/theory/index.ts';
import { isSilentBar, performedBars, type SilentBars } from './click-score.ts';
import type { SoundEvent } from './sound-event.ts';

export const BASS_PARTS = ['none', 'root', 'rootFifth'] as const;
export type BassPart = (typeof BASS_PARTS)[number];

export interface ChordSettings {
  readonly bass: BassPart;
  readonly pad: boolean;
  readonly silentBars: SilentBars;
}

/** The lowest note of a bass with four strings, and of the pad's hand. Common practice, no source. */
const BASS_LOWEST_MIDI = 28;
const PAD_LOWEST_MIDI = 52;
/** A bass note ends a little before the next, so that a repeated one is heard twice. */
const BASS_SHARE = 0.92;
const BASS_VELOCITY = 90;
const PAD_VELOCITY = 60;
/** More tones than this blur in the low middle. */
const MOST_PAD_TONES = 4;

interface PlacedChord {
  readonly symbol: ChordSymbol;
  readonly fromBeat: number;
  readonly beats: number;
}

/** The pickup's own chords; the first begins with it, wherever in its beat. */
function pickupChords({ pickup }: Form): readonly PlacedChord[] {
  if (pickup === null) return [];
  const whole = Math.ceil(pickup.beats);
  return pickup.chords.flatMap(({ symbol, beat, beats }): PlacedChord[] => {
    const fromBeat = Math.max(-pickup.beats, beat - 1 - whole);
    const endBeat = beat - 1 - whole + beats;
    return symbol === null ? [] : [{ symbol, fromBeat, beats: endBeat - fromBeat }];
  });
}

/** Bass and pad of a performance, in order of time; nothing under `N.C.` and in silent bars. */
export function* chordScore(
  form: Form,
  clock: BeatClock,
  choruses: number | null,
  settings: ChordSettings,
): Generator<SoundEvent> {
  if (settings.bass === 'none' && !settings.pad) return;
  let voicing: readonly number[] = [];
  for (const placed of pickupChords(form)) {
    if (settings.pad) {
      voicing = padVoicing(placed.symbol, voicing);
      yield* padNotes(placed, clock, voicing);
    }
    if (settings.bass !== 'none') yield* bassNotes(placed, clock, 'root');
  }
  for (const { place, barIndex, firstBeat } of performedBars(form, choruses)) {
    const bar = form.bars[barIndex];
    if (bar === undefined || isSilentBar(settings.silentBars, place, bar.bar)) continue;
    for (const { symbol, beat, beats } of bar.chords) {
      if (symbol === null) continue;
      const placed = { symbol, fromBeat: firstBeat + beat - 1, beats };
      if (settings.pad) {
        voicing = padVoicing(symbol, voicing);
        yield* padNotes(placed, clock, voicing);
      }
      if (settings.bass !== 'none') yield* bassNotes(placed, clock, settings.bass);
    }
  }
}

function* padNotes(
  { fromBeat, beats }: PlacedChord,
  clock: BeatClock,
  voicing: readonly number[],
): Generator<SoundEvent> {
  const atMs = clock.timeMs(fromBeat);
  const durationMs = clock.timeMs(fromBeat + beats) - atMs;
  for (const midi of voicing) {
    yield { kind: 'pad', atMs, midi, durationMs, velocity: PAD_VELOCITY };
  }
}

function* bassNotes(
  { symbol, fromBeat, beats }: PlacedChord,
  clock: BeatClock,
  part: BassPart,
): Generator<SoundEvent> {
  const half = Math.ceil(beats / 2);
  const isSplit = part === 'rootFifth' && beats > 1;
  const bassPc = tonePc(symbol.bass ?? symbol.root);
  const notes = isSplit
    ? [
        { pc: bassPc, from: fromBeat, to: fromBeat + half },
        { pc: secondBassPc(symbol), from: fromBeat + half, to: fromBeat + beats },
      ]
    : [{ pc: bassPc, from: fromBeat, to: fromBeat + beats }];
  for (const { pc, from, to } of notes) {
    const atMs = clock.timeMs(from);
    const durationMs = (clock.timeMs(to) - atMs) * BASS_SHARE;
    yield {
      kind: 'bass',
      atMs,
      midi: lowestFrom(BASS_LOWEST_MIDI, pc),
      durationMs,
      velocity: BASS_VELOCITY,
    };
  }
}

/** The chord's own fifth, perfect if it has one; the root where it has none, or where the bass is another note. */
export function secondBassPc(symbol: ChordSymbol): number {
  const root = tonePc(symbol.root);
  if (symbol.bass !== null && tonePc(symbol.bass) !== root) return root;
  const pcs = chordPcs(symbol);
  const fifth = [7, 6, 8].find((semitones) => pcs.includes((root + semitones) % 12));
  return fifth === undefined ? root : (root + fifth) % 12;
}

function lowestFrom(lowestMidi: number, pc: number): number {
  return lowestMidi + ((((pc - lowestMidi) % 12) + 12) % 12);
}

/**
 * The pad's keys for a chord, ascending: its tones without the root where there are enough of them, each as near as can
 * be to the voicing before, within an octave and a half.
 */
export function padVoicing(symbol: ChordSymbol, before: readonly number[]): readonly number[] {
  const root = tonePc(symbol.root);
  const pcs = chordPcs(symbol);
  const chosen = (pcs.length > 3 ? pcs.filter((pc) => pc !== root) : pcs).slice(0, MOST_PAD_TONES);
  const centre = before.length === 0 ? PAD_LOWEST_MIDI + 7 : mean(before);
  const keys = chosen.map((pc) => {
    const low = lowestFrom(PAD_LOWEST_MIDI, pc);
    return Math.abs(low - centre) <= Math.abs(low + 12 - centre) || low + 12 > PAD_LOWEST_MIDI + 18
      ? low
      : low + 12;
  });
  return keys.sort((a, b) => a - b);
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / values.length;
}
