/** The chords of a measure, which may stand anywhere in it, on the beats and half-beats of a bar. */

import { beatsPerBar, quartersPerBeat } from '../meter.ts';
import type { WrittenChord } from '../model.ts';
import type { MusicXmlNotice } from './problem.ts';
import type { ReadMeasure } from './read-measures.ts';

/** The chords of a measure on its beats and half-beats; what sounds from before holds until the first. */
export function onBeats(
  { number, meter, chords }: Pick<ReadMeasure, 'number' | 'meter' | 'chords'>,
  sounding: WrittenChord['symbol'],
  notices: MusicXmlNotice[],
): readonly WrittenChord[] {
  const beats = beatsPerBar(meter);
  const placed = new Map<number, WrittenChord['symbol']>([[1, sounding]]);
  let isFirst = true;
  for (const { atQuarter, symbol } of chords) {
    const exact = atQuarter / quartersPerBeat(meter);
    const beat = Math.min(beats + 0.5, Math.round(2 * exact) / 2 + 1);
    const name = symbol?.text ?? 'N.C.';
    if (Math.abs(exact - (beat - 1)) > 1e-6) {
      notices.push({
        measure: number,
        what: `${name} was moved to beat ${beat}: chords stand on beats and half-beats`,
      });
    }
    if (placed.has(beat) && !(beat === 1 && isFirst)) {
      notices.push({
        measure: number,
        what: `${name} falls on a beat that has a chord; it took its place`,
      });
    }
    placed.set(beat, symbol);
    isFirst = false;
  }
  const starts = [...placed].sort(([one], [other]) => one - other);
  return starts.map(([beat, symbol], index) => ({
    beat,
    beats: (starts[index + 1]?.[0] ?? beats + 1) - beat,
    symbol,
    given: null,
  }));
}
