/** The end of the line at `free`: the closing note is told from the notes before it. Source: `grading.md`, "Closing note". */

import { beatsPerBar, type Form, quartersPerBeat } from '../chart/index.ts';
import type { BeatClock } from '../grid/beat-clock.ts';
import type { Strike } from '../take/strikes.ts';
import type { LineReader } from './line-reader.ts';
import { RESOLUTION_MS } from './resolution.ts';

/**
 * A free line with a closing note. The cell of one begins half an eighth before the end of a chorus, or in the middle of a last
 * chord shorter than an eighth, and ends half an eighth after it. With a planned end the strike of its cell that is nearest to the end is the closing note: those before it are
 * notes of the line, what comes after it is not graded. Without one, a lone strike in such a cell with nothing after it is.
 */
export function endFreeLine(
  line: LineReader,
  form: Form,
  clock: BeatClock,
  choruses: number | null,
): LineReader {
  const beats = form.bars.reduce((sum, { meter }) => sum + beatsPerBar(meter), 0);
  // A last chord shorter than an eighth has its note before that.
  const before = Math.min(
    halfEighthBeats(form.bars.at(-1)?.meter ?? form.meter),
    (form.bars.at(-1)?.chords.at(-1)?.beats ?? 1) / 2,
  );
  const after = halfEighthBeats(form.bars[0]?.meter ?? form.meter);
  /** The strike that is the closing note unless more comes. */
  let closing: { readonly strike: Strike; readonly nominalMs: number } | null = null;
  let lastEnd: number | null = null;
  let added = 0;

  /** The chorus in whose last cell a time lies, counted from 1; null when it lies in none. */
  function endAt(timeMs: number): number | null {
    const chorus = Math.round(clock.beatAt(timeMs) / beats);
    const isEnd = choruses === null ? chorus >= 1 : chorus === choruses;
    if (!isEnd) return null;
    const fromMs = clock.timeMs(chorus * beats - before) - RESOLUTION_MS;
    const toMs = clock.timeMs(chorus * beats + after) - RESOLUTION_MS;
    return timeMs >= fromMs && timeMs < toMs ? chorus : null;
  }

  function pass(strike: Strike): void {
    added++;
    line.add(strike);
  }

  function release(): void {
    if (closing !== null) pass(closing.strike);
    closing = null;
  }

  function addToPlanned(strike: Strike, end: number | null): void {
    if (end === null) {
      if (closing === null) pass(strike);
      return;
    }
    const nominalMs = clock.timeMs(end * beats);
    const farMs = (one: Strike): number => Math.abs(one.onsetMs - nominalMs);
    if (closing !== null && farMs(closing.strike) <= farMs(strike)) return;
    release();
    closing = { strike, nominalMs };
  }

  return {
    ...line,
    add(strike) {
      const end = endAt(strike.onsetMs);
      if (choruses !== null) return addToPlanned(strike, end);
      release();
      if (end !== null && end !== lastEnd)
        closing = { strike, nominalMs: clock.timeMs(end * beats) };
      else pass(strike);
      lastEnd = end;
    },
    preview(onsetMs) {
      if (choruses !== null && endAt(onsetMs) !== null) {
        const nominalMs = clock.timeMs(choruses * beats);
        return { index: added, isClosing: true, ordinal: 0, nominalMs, toleranceMs: null };
      }
      return line.preview(onsetMs);
    },
    closing: () => closing,
  };
}

function halfEighthBeats(meter: Form['meter']): number {
  return 0.25 / quartersPerBeat(meter);
}
