/** A written line of given keys, one after another and all of one length, for tests that count or grade them. */

import type { WrittenLine } from '../../src/core/line/index.ts';
import type { Level, SlotsPerBeat } from '../../src/core/words.ts';

/** The line is so many slots to a beat; the names of its notes and their chords are left empty. */
export function lineOfKeys(
  midis: readonly number[],
  level: Level,
  slotsPerBeat: SlotsPerBeat,
): WrittenLine {
  const place = { chorus: 1, bar: 1, beat: 1, sub: 0, chord: '', palette: null };
  return {
    ...{ level, slotsPerBeat, swing: 1, choruses: 1, rhythm: null, closing: null },
    beats: midis.length / slotsPerBeat,
    notes: midis.map((midi, slot) => ({
      ...{ slot, place, midi, name: '', velocity: 70 },
      onsetBeats: slot / slotsPerBeat,
      durationBeats: 0.9 / slotsPerBeat,
    })),
  };
}
