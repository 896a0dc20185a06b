/** Whether the left hand gave each chord its bass note. Source: `grading.md`, "Left hand". */

import type { BeatClock } from '../grid/beat-clock.ts';
import { type Onset, STRIKE_WINDOW_MS } from '../take/strikes.ts';
import type { BassVerdict } from '../words.ts';
import type { Span } from './breaks.ts';
import type { Course } from './course.ts';
import type { ReportBass } from './report.ts';
import { RESOLUTION_MS } from './resolution.ts';

/** A bass note may lie this far from its chord's start, in beats; exactly at the edge still counts. */
export const BASS_REACH_BEATS = 0.25;

/**
 * Judges the bass note of every chord up to a position. In: left-hand onsets in order of time, latency taken
 * off; `endBeat` is where the graded line ends. Keys struck together are one bass note, the lowest of them: a
 * voicing's upper keys may lie a hair nearer to the beat than its bass. A chord whose bass may have fallen into a break is
 * left out: own rule.
 */
export function judgeLeftHand(
  course: Course,
  clock: BeatClock,
  onsets: readonly Onset[],
  endBeat: number,
  isBroken: (span: Span) => boolean,
): readonly ReportBass[] {
  const basses = lowestOfEachStrike(onsets);
  const verdicts: ReportBass[] = [];
  let from = 0;
  for (let chorus = 0; chorus * course.beats <= endBeat; chorus++) {
    for (const chord of course.chords) {
      const startBeat = chorus * course.beats + chord.beatInChorus;
      if (startBeat > endBeat) break;
      if (chord.bassPc === null) continue;
      const startMs = clock.timeMs(startBeat);
      const earliestMs = clock.timeMs(startBeat - BASS_REACH_BEATS) - RESOLUTION_MS;
      const latestMs = clock.timeMs(startBeat + BASS_REACH_BEATS) + RESOLUTION_MS;
      if (isBroken({ fromMs: earliestMs, toMs: latestMs })) continue;
      while ((basses[from]?.onsetMs ?? Number.POSITIVE_INFINITY) < earliestMs) from++;
      const bass = nearest(basses, from, startMs, latestMs);
      const verdict: BassVerdict =
        bass === null ? 'missing' : bass.midi % 12 === chord.bassPc ? 'root' : 'other';
      verdicts.push({
        chorus: chorus + 1,
        bar: course.form.bars[chord.barIndex]?.bar ?? 1,
        beat: chord.beat,
        expectedPc: chord.bassPc,
        midi: bass?.midi ?? null,
        deviationMs: bass === null ? null : bass.onsetMs - startMs,
        verdict,
      });
    }
  }
  return verdicts;
}

function nearest(
  basses: readonly Onset[],
  from: number,
  startMs: number,
  latestMs: number,
): Onset | null {
  let best: Onset | null = null;
  for (let index = from; index < basses.length; index++) {
    const bass = basses[index];
    if (bass === undefined || bass.onsetMs > latestMs) break;
    if (best === null || Math.abs(bass.onsetMs - startMs) < Math.abs(best.onsetMs - startMs)) {
      best = bass;
    }
  }
  return best;
}

function lowestOfEachStrike(onsets: readonly Onset[]): readonly Onset[] {
  const basses: Onset[] = [];
  let strikeStartMs = Number.NEGATIVE_INFINITY;
  for (const onset of onsets) {
    const lowest = basses.at(-1);
    if (lowest === undefined || onset.onsetMs - strikeStartMs > STRIKE_WINDOW_MS) {
      strikeStartMs = onset.onsetMs;
      basses.push(onset);
    } else if (onset.midi < lowest.midi) basses[basses.length - 1] = onset;
  }
  return basses;
}
