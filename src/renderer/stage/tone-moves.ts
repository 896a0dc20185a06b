/** Which tone moves where at a change, in words: `A♭ → A`. Pure. */

import { withSigns } from '../look/signs.ts';
import type { ToneMove } from '../palette/palette-words.ts';

/** Tones this far apart are one that moved, in semitones; others leave and arrive by themselves. */
const MOVES_BY = 2;

/** One line for each tone that leaves or arrives, those paired that lie nearest, in the order of the keyboard. */
export function moveWords(moves: readonly ToneMove[]): readonly string[] {
  const leaving = moves.filter(({ move }) => move === 'leaves');
  const arriving = moves.filter(({ move }) => move === 'arrives');
  const pairs = leaving
    .flatMap((from) => arriving.map((to) => ({ from, to, by: distance(from.pc, to.pc) })))
    .filter(({ by }) => by <= MOVES_BY)
    .sort((one, other) => one.by - other.by);
  const lines: { readonly pc: number; readonly words: string }[] = [];
  const done = new Set<ToneMove>();
  for (const { from, to } of pairs) {
    if (done.has(from) || done.has(to)) continue;
    done.add(from).add(to);
    lines.push({ pc: from.pc, words: `${withSigns(from.note)} → ${withSigns(to.note)}` });
  }
  for (const tone of [...leaving, ...arriving]) {
    if (done.has(tone)) continue;
    const note = withSigns(tone.note);
    lines.push({ pc: tone.pc, words: tone.move === 'leaves' ? `${note} →` : `→ ${note}` });
  }
  return lines.sort((one, other) => one.pc - other.pc).map(({ words }) => words);
}

/** The shorter way round, in semitones. */
function distance(one: number, other: number): number {
  const up = (((other - one) % 12) + 12) % 12;
  return Math.min(up, 12 - up);
}
