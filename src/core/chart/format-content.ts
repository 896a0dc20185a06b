/** What stands in one bar, as text. */

import { formatBeats } from './beats.ts';
import { beatsPerBar } from './meter.ts';
import type { WrittenBar, WrittenChord } from './model.ts';

/** What stands between the bar lines of one bar: `Cm7 F7`, `Dm7 / / G7 <altered>`, `%`. */
export function formatContent({ content, meter }: Pick<WrittenBar, 'content' | 'meter'>): string {
  if (content.kind === 'same') return '%';
  const words = content.chords.map((chord) => ({ text: formatChord(chord), beats: chord.beats }));
  return formatBeats(words, beatsPerBar(meter));
}

function formatChord({ symbol, given }: WrittenChord): string {
  if (symbol === null) return 'N.C.';
  return given === null ? symbol.text : `${symbol.text} <${given.text}>`;
}
