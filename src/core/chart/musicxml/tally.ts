/** What of a melody was left out or moved, counted by kind, told with the measures it happened in. */

import type { MusicXmlNotice } from './problem.ts';

/** Each in words, by how many notes it was and their verb. */
const KINDS = {
  grace: (notes, were) => `${notes} of grace ${were} left out`,
  cue: (notes, were) => `${notes} for another player (cue notes) ${were} left out`,
  voice: (notes, were) => `${notes} of other voices ${were} left out`,
  lower: (notes, were) => `${notes} below another of the melody ${were} left out`,
  unpitched: (notes, were) => `${notes} without a pitch that keys have ${were} left out`,
  short: (notes, were) => `${notes} too short for a twelfth of a beat ${were} left out`,
  rounded: (notes, were) => `${notes} ${were} moved to the nearest twelfth of a beat`,
  cut: (notes, were) => `${notes} ${were} cut where the next one or the bar line comes`,
  late: (notes, were) => `${notes} beyond the end of an overfull measure ${were} left out`,
  tie: (notes, were) => `${notes} with a tie from nowhere ${were} written without it`,
  bent: (notes, were) => `${notes} between the keys ${were} taken as the nearest key`,
  lyric: (notes) => `the words under ${notes} were left out`,
  sign: (notes) => `slurs, articulations and other signs of ${notes} were left out`,
  transposing: () =>
    'the part is for a transposing instrument; its chords and notes were taken as written',
  unfilled: () => 'the melody is shorter than the measure; what is missing was taken as a rest',
} as const satisfies Record<string, (notes: string, were: 'was' | 'were') => string>;

export type TallyKind = keyof typeof KINDS;

export interface Tally {
  /** Counts one, in a measure as the file numbers it. */
  add(kind: TallyKind, measure: string): void;
  /** A notice for each kind that was met. */
  notices(): readonly MusicXmlNotice[];
}

/** Measures told by their number. */
const MOST_TOLD = 6;

export function tallyOf(): Tally {
  const met = new Map<TallyKind, { count: number; readonly measures: Set<string> }>();
  return {
    add(kind, measure) {
      const own = met.get(kind) ?? { count: 0, measures: new Set<string>() };
      own.count++;
      own.measures.add(measure.slice(0, 12));
      met.set(kind, own);
    },
    notices: () =>
      [...met].map(([kind, { count, measures }]) => {
        const what =
          count === 1 ? KINDS[kind]('one note', 'was') : KINDS[kind](`${count} notes`, 'were');
        const [only = ''] = measures;
        if (measures.size === 1) return { measure: only, what };
        const more = measures.size > MOST_TOLD ? ` and ${measures.size - MOST_TOLD} more` : '';
        return {
          measure: null,
          what: `${what} (measures ${[...measures].slice(0, MOST_TOLD).join(', ')}${more})`,
        };
      }),
  };
}
