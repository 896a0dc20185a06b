/**
 * The styles of drill, for a screen to list. Names and exercises are those of common practice, without a source; where a
 * rule had to be fixed that teachers leave open, its file says so.
 */

import type { Level } from '../../words.ts';

export const DRILL_STYLES = [
  'continuousScale',
  'ascending',
  'brokenThirds',
  'brokenSevenths',
  'approachNotes',
  'enclosures',
  'guideTones',
] as const;
export type DrillStyle = (typeof DRILL_STYLES)[number];

export interface Drill {
  readonly style: DrillStyle;
  readonly name: string;
  /** One sentence: what is played. */
  readonly about: string;
  /**
   * The lowest level whose intervals the drill is made of. A thin palette can ask for wider ones; the written line then
   * carries the level that lets them pass.
   */
  readonly level: Level;
  /** One sentence: what the grader says of it. */
  readonly graded: string;
  /** Whether the seed chooses among notes; where not, every seed gives the same ones. */
  readonly varies: boolean;
}

/** Every drill, in the order they are learnt. */
export const DRILLS: readonly Drill[] = [
  {
    style: 'continuousScale',
    name: 'Continuous scale',
    about: 'Straight up and down through each palette, turning only at the ends of the register.',
    level: 'steps',
    graded: 'Clean at steps over palettes without wide gaps; at a change a third may be lined up.',
    varies: false,
  },
  {
    style: 'ascending',
    name: 'Ascending with octave breaks',
    about: 'Always upwards; where the register ends, down an octave at a time and on.',
    level: 'leaps',
    graded: 'Clean at leaps: each octave break is a wide interval.',
    varies: false,
  },
  {
    style: 'brokenThirds',
    name: 'Broken thirds',
    about: 'Thirds of the palette in turn, 1 3 2 4 3 5, up and down.',
    level: 'thirds',
    graded: 'Clean at thirds over scales; a palette with wide gaps needs leaps.',
    varies: false,
  },
  {
    style: 'brokenSevenths',
    name: 'Broken seventh chords',
    about: 'A seventh chord of the palette on each of its degrees, 1 3 5 7, then the next degree.',
    level: 'leaps',
    graded: 'Clean at leaps: from each seventh the line drops to the next root.',
    varies: false,
  },
  {
    style: 'approachNotes',
    name: 'Approach notes',
    about: 'A chord tone on each strong place, led into by a half step or a scale step.',
    level: 'leaps',
    graded: 'Clean at leaps; a chromatic approach is marked, and would be outside at steps.',
    varies: true,
  },
  {
    style: 'enclosures',
    name: 'Enclosures',
    about: 'Upper neighbour, lower half step, then the chord tone between them.',
    level: 'leaps',
    graded: 'Clean at leaps; a chromatic lower neighbour is marked as an approach.',
    varies: false,
  },
  {
    style: 'guideTones',
    name: 'Guide-tone line',
    about: 'Thirds and sevenths in half notes, each the nearest to the one before.',
    level: 'free',
    graded: 'Clean at free alone: half notes leave gaps on the grid of the other levels.',
    varies: true,
  },
];

/** The drill of a style. */
export function drillOf(style: DrillStyle): Drill {
  const [first, ...others] = DRILLS;
  const found = others.find((drill) => drill.style === style) ?? first;
  if (found === undefined) throw new Error('there are no drills');
  return found;
}
