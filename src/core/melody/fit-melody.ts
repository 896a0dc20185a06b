/** A melody over its chart as the chart is now: in its key, or why it can no longer stand over these bars. */

import type { Chart } from '../chart/index.ts';
import { failure, type Outcome, success } from '../problem.ts';
import { formatTone, keyFifths, parseNoteName, parseTone, toneAlter } from '../theory/index.ts';
import { melodyBars, raiseBars } from './melody-bars.ts';
import type { Melody, MelodyBar, MelodySound } from './model.ts';

/** What was done to the bars of the chart since the melody was written over them. */
export type MelodyMisfit =
  | { readonly code: 'bars'; readonly was: number; readonly is: number }
  /** The bar, from 1, whose meter is another one. */
  | { readonly code: 'meter'; readonly bar: number; readonly was: string; readonly is: string }
  /** As many bars as before, and they stand elsewhere: one was taken out and another put in. */
  | { readonly code: 'moved' };

/**
 * The melody in the key the chart is in now, over the bars it has now. Chords that were changed do not matter.
 * Own rule: bars were moved when more of them are found again out of their place than in it.
 */
export function fitMelody(chart: Chart, melody: Melody): Outcome<Melody, MelodyMisfit> {
  const bars = melodyBars(chart);
  const then = melody.bars;
  if (bars.length !== then.length) {
    return failure({ code: 'bars', was: then.length, is: bars.length });
  }
  const other = bars.findIndex(({ meter }, index) => meter !== then[index]?.meter);
  if (other >= 0) {
    const [was, is] = [then[other]?.meter ?? '', bars[other]?.meter ?? ''];
    return failure({ code: 'meter', bar: other + 1, was, is });
  }
  // A key that was named anew over the same chords moves nothing.
  const signature = keyFifths(chart.key);
  const present = bars.map(asText);
  const moves = [signature - melody.fifths, 0].map((by) => {
    const raised = raiseBars(then, semitonesOf(by)).map(asText);
    return { by, raised, inPlace: countInPlace(raised, present) };
  });
  const best = moves.reduce((one, next) => (next.inPlace > one.inPlace ? next : one));
  if (countInOrder(best.raised, present) > best.inPlace) return failure({ code: 'moved' });
  const sounds = best.by === 0 ? melody.sounds : melody.sounds.map(moverBy(best.by));
  return success({ leadIn: melody.leadIn, fifths: signature, bars, sounds });
}

/** The nearest way: from six semitones down to five up. */
function semitonesOf(fifths: number): number {
  const up = (((7 * fifths) % 12) + 12) % 12;
  return up > 5 ? up - 12 : up;
}

function moverBy(fifths: number): (sound: MelodySound) => MelodySound {
  const semitones = semitonesOf(fifths);
  return (sound) => ({ ...sound, name: moveName(sound.name, fifths, semitones) });
}

/** One accidental more or less on the line of fifths: the same pitch under the next name. */
const ENHARMONIC = 12;

/** A name moved; one that would have three accidentals takes its other name. */
function moveName(name: string, fifths: number, semitones: number): string {
  const tone = parseTone(name.replace(/-?\d+$/u, ''));
  const midi = parseNoteName(name);
  if (tone === null || midi === null) return name;
  let moved = tone + fifths;
  while (toneAlter(moved) > 2) moved -= ENHARMONIC;
  while (toneAlter(moved) < -2) moved += ENHARMONIC;
  const octave = Math.floor((midi + semitones - toneAlter(moved)) / 12) - 1;
  return `${formatTone(moved)}${octave}`;
}

/** A bar as text: equal texts are the same bar. */
function asText({ meter, roots }: MelodyBar): string {
  return `${meter} ${roots.join()}`;
}

function countInPlace(then: readonly string[], now: readonly string[]): number {
  return then.filter((bar, index) => bar === now[index]).length;
}

/** How many bars are found again in the same order at most: the longest common subsequence. */
function countInOrder(then: readonly string[], now: readonly string[]): number {
  // What both begin and end with needs no search.
  let from = 0;
  while (from < then.length && then[from] === now[from]) from++;
  let to = then.length;
  while (to > from && then[to - 1] === now[to - 1]) to--;
  let best = new Array<number>(to - from + 1).fill(0);
  for (const bar of then.slice(from, to)) {
    const next = [0];
    for (let at = 1; at <= to - from; at++) {
      const longest = Math.max(best[at] ?? 0, next[at - 1] ?? 0);
      const isFound = bar === now[from + at - 1];
      next.push(isFound ? Math.max(longest, (best[at - 1] ?? 0) + 1) : longest);
    }
    best = next;
  }
  return from + (then.length - to) + (best.at(-1) ?? 0);
}

/** Why it cannot be shown, and what to do, in words. */
export function describeMisfit(misfit: MelodyMisfit): string {
  const remedy = 'Undo that, or import the score again.';
  switch (misfit.code) {
    case 'bars':
      return `The melody was written over ${misfit.was} bars, and the chart has ${misfit.is} now: bars were added or removed. It is kept, and not shown over bars it does not belong to. ${remedy}`;
    case 'meter':
      return `The melody has bar ${misfit.bar} in ${misfit.was}, and the chart has it in ${misfit.is} now. It is kept, and not shown in a meter it is not in. ${remedy}`;
    case 'moved':
      return `The bars of the chart were moved since the melody was written over them: one was removed and another added. It is kept, and not shown over bars it does not belong to. ${remedy}`;
  }
}
