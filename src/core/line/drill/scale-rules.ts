/** Drills that run through the palette: the continuous scale, ascents with octave breaks, broken thirds. */

import { hasPc, type PaletteView } from '../../grading/index.ts';
import type { DrillPlace } from './drill-places.ts';
import { type StartWish, startKeys } from './start-keys.ts';
import { type Direction, isIn, paletteTones } from './tones.ts';
import { type Stand, type WalkRule, waysOn } from './walk.ts';

/** What every rule is made from: the places and where the line may begin and lie. */
export interface DrillFrame {
  readonly places: readonly DrillPlace[];
  readonly wish: StartWish;
}

/** Stands for the first note: over a palette of one form the best key alone. */
export function startsOn<Pose>(
  { places, wish }: DrillFrame,
  pose: (midi: number) => Pose,
  fits: (midi: number) => boolean = () => true,
): readonly Stand<Pose>[] {
  const [first] = places;
  if (first === undefined) return [];
  const keys = startKeys(first.palette.mask, wish).filter(fits);
  return waysOn(first, keys.slice(0, 1), keys.slice(1)).map((midi) => ({ midi, pose: pose(midi) }));
}

/**
 * Continuous scale: from the lowest palette tone of the register up, always to the next tone of the palette in force, in
 * the same direction over a change of palette; it turns where the register has no further tone. Common practice, no
 * source.
 */
export function continuousScale(frame: DrillFrame): WalkRule<Direction> {
  const { places, wish } = frame;
  return {
    starts: () => startsOn(frame, () => 1),
    next(slot, { midi, pose }) {
      const place = places[slot];
      if (place === undefined) return [];
      const going = (direction: Direction): readonly Stand<Direction>[] =>
        paletteTones(place.palette, midi, direction)
          .filter((tone) => isIn(wish.register, tone))
          .map((tone) => ({ midi: tone, pose: direction }));
      return waysOn(place, going(pose), going(turned(pose)));
    },
    poseKey: (pose) => pose,
  };
}

/** Notes since the line broke downwards, while it may have to break again; null once it may run to the end. */
type SinceBreak = number | null;

/**
 * Ascending with octave breaks: always to the next palette tone above; where that lies beyond the register it is played an
 * octave lower. While there is room for one more octave the line breaks again after half of the palette's tones, so that it
 * comes down in parts: no break is as wide as an octave. Common practice, no source; the parts are our own.
 */
export function ascending(frame: DrillFrame): WalkRule<SinceBreak> {
  const { places, wish } = frame;
  const { register } = wish;
  return {
    starts: () => startsOn(frame, () => null),
    next(slot, { midi, pose }) {
      const place = places[slot];
      if (place === undefined) return [];
      const { palette } = place;
      const above = paletteTones(palette, midi, 1);
      const onward = above
        .filter((tone) => isIn(register, tone))
        .map((tone) => ({ midi: tone, pose: pose === null ? null : pose + 1 }));
      const broken = above
        .map((tone) => tone - OCTAVE)
        .filter((tone) => isIn(register, tone) && tone < midi)
        .map((tone) => ({ midi: tone, pose: tone - OCTAVE >= register.lowestMidi ? 1 : null }));
      const isDue = pose !== null && pose >= halfOf(palette);
      return isDue ? waysOn(place, broken, onward) : waysOn(place, onward, broken);
    },
    poseKey: (pose) => pose ?? 0,
  };
}

const OCTAVE = 12;

/** Half of a palette's tones, rounded up. */
function halfOf({ rising }: PaletteView): number {
  const tones = Array.from({ length: OCTAVE }, (_, pc) => pc).filter((pc) =>
    hasPc(rising.mask, pc),
  );
  return Math.ceil(tones.length / 2);
}

/** Where broken thirds stand: which way they go, and whether the next move is a third or the step back. */
export interface ThirdsPose {
  readonly direction: Direction;
  readonly leg: 'third' | 'back';
}

/**
 * Broken thirds: two palette tones on, one back, and so on: 1 3 2 4 3 5. Where the register has no third further on, the
 * third goes the other way and the figure with it: 6 8 7 5 6 4. Counted in the palette in force at each note. Common
 * practice, no source.
 */
export function brokenThirds(frame: DrillFrame): WalkRule<ThirdsPose> {
  const { places, wish } = frame;
  return {
    starts: () => startsOn(frame, () => ({ direction: 1, leg: 'third' })),
    next(slot, { midi, pose }) {
      const place = places[slot];
      if (place === undefined) return [];
      const leg = pose.leg === 'third' ? 'back' : 'third';
      const going = (direction: Direction): readonly Stand<ThirdsPose>[] =>
        paletteTones(place.palette, midi, pose.leg === 'third' ? 2 * direction : -direction)
          .filter((tone) => isIn(wish.register, tone))
          .map((tone) => ({ midi: tone, pose: { direction, leg } }));
      return waysOn(place, going(pose.direction), going(turned(pose.direction)));
    },
    poseKey: ({ direction, leg }) => direction * (leg === 'third' ? 1 : 2),
  };
}

export function turned(direction: Direction): Direction {
  return direction === 1 ? -1 : 1;
}
