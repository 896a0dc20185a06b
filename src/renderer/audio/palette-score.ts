/** A palette as sounds: its chord, and over it the tones up to the octave and down again. Pure. */

import { type ChordSymbol, chordPcs, type Palette } from '../../core/theory/index.ts';
import type { SoundEvent } from './sound-event.ts';

const NOTE_MS = 280;
const FIRST_OCTAVE_MIDI = 60;
const CHORD_OCTAVE_MIDI = 48;
const VELOCITY = 80;

/** The tones rising from the root above middle C, then falling in their own form; the chord held below. */
export function paletteScore(palette: Palette, symbol: ChordSymbol | null): readonly SoundEvent[] {
  const up = risingMidis(palette.pcs);
  const top = (up[0] ?? FIRST_OCTAVE_MIDI) + 12;
  const down = palette.falling === null ? up : risingMidis(palette.falling.pcs, up[0]);
  const line = [...up, top, ...down.toReversed()];
  const chord = symbol === null ? [] : chordPcs(symbol);
  return [
    ...chord.map(
      (pc): SoundEvent => ({
        kind: 'pad',
        atMs: 0,
        midi: CHORD_OCTAVE_MIDI + pc,
        durationMs: line.length * NOTE_MS,
        velocity: VELOCITY,
      }),
    ),
    ...line.map(
      (midi, index): SoundEvent => ({
        kind: 'note',
        atMs: index * NOTE_MS,
        midi,
        durationMs: NOTE_MS,
        velocity: VELOCITY,
      }),
    ),
  ];
}

/** Pitch classes as keys, each above the one before, the first at or above a key. */
function risingMidis(pcs: readonly number[], from = FIRST_OCTAVE_MIDI): readonly number[] {
  let last = from - 1;
  return pcs.map((pc) => {
    last += ((((pc - last) % 12) + 11) % 12) + 1;
    return last;
  });
}
