/** Scales by name, and the palettes they give on a root. */

import { nearestWord } from '../nearest-word.ts';
import { degreeInterval, readDegrees } from './degree.ts';
import { type Palette, paletteTones } from './palette.ts';
import { plainSigns } from './plain-signs.ts';
import { readableTone } from './readable-tone.ts';
import { SCALE_ROWS, type ScaleRow } from './scales.data.ts';
import { formatTone, type Interval, type Tone } from './tone.ts';

/** A scale: its name in the catalogue, other names, and spelled intervals rising from the root. */
export interface Scale {
  readonly name: string;
  readonly aliases: readonly string[];
  readonly intervals: readonly Interval[];
  /** Intervals of the way down, still written upwards; null unless they differ. */
  readonly falling: readonly Interval[] | null;
}

/** Every scale of the catalogue, in its order. */
export const SCALES: readonly Scale[] = SCALE_ROWS.map(readRow);

function readRow({ name, degrees, falling, aliases }: ScaleRow): Scale {
  return {
    name,
    aliases: aliases ?? [],
    intervals: readIntervals(degrees),
    falling: falling === undefined ? null : readIntervals(falling),
  };
}

function readIntervals(row: string): readonly Interval[] {
  return readDegrees(row).map(degreeInterval);
}

/** Longer names are no names of scales, and comparing them would cost time. */
const MAX_NAME_LENGTH = 60;

const SCALE_BY_NAME: ReadonlyMap<string, Scale> = new Map(
  SCALES.flatMap((scale) =>
    [scale.name, ...scale.aliases].map((name) => [plainScaleName(name), scale] as const),
  ),
);

/**
 * The scale of a name or one of its other names, or null. Case, spaces, hyphens and the look of accidentals do not
 * matter (`Lydian ♭7`, `lydian flat 7`, `LYDIAN-B7`), nor does a trailing `scale` or `mode`.
 */
export function findScale(name: string): Scale | null {
  if (name.length > MAX_NAME_LENGTH) return null;
  return SCALE_BY_NAME.get(plainScaleName(name)) ?? null;
}

function plainScaleName(name: string): string {
  return plainSigns(name)
    .toLowerCase()
    .replaceAll('♮', 'natural')
    .replace(/[\s_,.()/-]/g, '')
    .replace(/flat/g, 'b')
    .replace(/sharp/g, '#')
    .replace(/nat(?:ural)?(?=\d)/g, 'natural')
    .replace(/(?<=.)(?:scale|mode)$/, '');
}

/** The names a reader may meet, catalogue names first, and what is compared of each: a text may hold many misspelled ones. */
const SCALE_NAMES: ReadonlyMap<string, string> = new Map(
  [...SCALES.map(({ name }) => name), ...SCALES.flatMap(({ aliases }) => aliases)].map((name) => [
    name,
    plainScaleName(name),
  ]),
);

/** The known name or other name nearest to a misspelled one, or null when none is near. */
export function nearestScaleName(name: string): string | null {
  if (name.length > MAX_NAME_LENGTH) return null;
  return nearestWord(
    plainScaleName(name),
    SCALE_NAMES.keys(),
    (known) => SCALE_NAMES.get(known) ?? known,
  );
}

/**
 * The palette of a scale on a root. In: a scale, a tone; a root with a double accidental is taken by its simple name.
 * Out: notes and pitch classes rising from the root; falling ones where they differ.
 * Spelling: each letter once in seven-note scales; a note that would need a double accidental is written as the simple
 * note of the same pitch (Gb altered has G, A and Bb). Seven letters: common practice, no source; the way out
 * of double accidentals: own rule.
 */
export function scalePalette(scale: Scale, root: Tone): Palette {
  const start = readableTone(root);
  const spell = (intervals: readonly Interval[]) =>
    paletteTones(intervals.map((interval) => readableTone(start + interval)));
  return {
    name: scale.name,
    root: formatTone(start),
    ...spell(scale.intervals),
    falling: scale.falling === null ? null : spell(scale.falling),
  };
}
