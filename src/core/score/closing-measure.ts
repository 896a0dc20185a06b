/** The closing note of a line as a bar of its own after the last: the note on its downbeat, then rests. */

import { beatsPerBar, type Form } from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import type { WrittenLine } from '../line/written-line.ts';
import { layMeasures, type Measure } from './measures.ts';
import { NO_SLOT } from './pickup-measure.ts';

/** The bar, in the last one's meter, under the chord that comes next; null where the line has no closing note. */
export function closingMeasure(
  { bars, next }: Form,
  { closing, choruses }: WrittenLine,
): Measure | null {
  const last = bars.at(-1);
  const chord = next ?? bars[0]?.chords[0];
  if (closing === null || last === undefined || chord === undefined) return null;
  const beats = beatsPerBar(last.meter);
  const bar = { ...last, bar: last.bar + 1, chords: [{ ...chord, beat: 1, beats }] };
  const length = Math.min(beats, closing.durationBeats) * TWELFTHS;
  const sound = { from: 0, length, name: closing.name, slot: NO_SLOT };
  const [measure] = layMeasures({ bars: [bar] }, [sound], 1);
  return measure === undefined ? null : { ...measure, chorus: choruses, meterSign: null };
}
