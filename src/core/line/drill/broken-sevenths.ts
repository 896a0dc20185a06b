/** Broken seventh chords: on each degree of the palette its 1 3 5 7. */

import { type DrillFrame, startsOn, turned } from './scale-rules.ts';
import { type Direction, isIn, keysIn, paletteTones, toneFrom } from './tones.ts';
import { type WalkRule, waysOn } from './walk.ts';

/** Tones of a seventh chord. */
const CHORD = 4;

export interface SeventhsPose {
  /** Which way the roots go. */
  readonly direction: Direction;
  readonly rootMidi: number;
  /** Tone of the chord, from 0. */
  readonly index: number;
}

/**
 * Broken seventh chords: from the lowest palette tone with room for it, every second tone of the palette in force, four of
 * them; then the same from the next palette tone after that root. Where that chord would leave the register, the roots turn,
 * to the nearest one with room. Common practice, no source.
 */
export function brokenSevenths(frame: DrillFrame): WalkRule<SeventhsPose> {
  const { places, wish } = frame;
  const { register } = wish;

  /** Whether what is left of the drill from a root on stays in the register, up to the whole chord. */
  function fits(slot: number, rootMidi: number): boolean {
    let midi: number | null = rootMidi;
    for (let index = 0; index < CHORD; index++) {
      const place = places[slot + index];
      if (place === undefined) return true;
      if (index > 0) midi = midi === null ? null : toneFrom(place.palette.rising.mask, midi, 2);
      if (!isIn(register, midi)) return false;
    }
    return true;
  }

  return {
    starts: () =>
      startsOn(
        frame,
        (rootMidi) => ({ direction: 1, rootMidi, index: 0 }),
        (midi) => fits(0, midi),
      ),
    next(slot, { midi, pose }) {
      const place = places[slot];
      if (place === undefined) return [];
      const { palette } = place;
      if (pose.index + 1 < CHORD) {
        return paletteTones(palette, midi, 2)
          .filter((tone) => isIn(register, tone))
          .map((tone) => ({ midi: tone, pose: { ...pose, index: pose.index + 1 } }));
      }
      const { rootMidi } = pose;
      const stands = (direction: Direction, tones: readonly number[]) =>
        tones
          .filter((root) => isIn(register, root) && root !== midi && fits(slot, root))
          .map((root) => ({ midi: root, pose: { direction, rootMidi: root, index: 0 } }));
      const onward = stands(pose.direction, paletteTones(palette, rootMidi, pose.direction));
      const back = turned(pose.direction);
      const others = keysIn(palette.mask, register).filter((root) => back * (root - rootMidi) > 0);
      const turning = stands(back, back === 1 ? others : others.toReversed());
      return waysOn(place, onward, turning.slice(0, 1), turning.slice(1));
    },
    poseKey: ({ direction, rootMidi, index }) => direction * (rootMidi * CHORD + index + 1),
  };
}
