/**
 * Time against beats: where beat n of a performance lies in milliseconds, and back. Beats count from 0 at the
 * first downbeat, through all choruses, and may be fractions or negative.
 */

import { beatsPerBar, type Form, quartersPerBeat } from '../chart/index.ts';
import type { TakeTempo, TempoPoint } from '../take/model.ts';

export interface BeatClock {
  /** Milliseconds of a beat position on the take's clock. */
  timeMs(beat: number): number;
  /** The beat position of a time; the inverse of `timeMs`. */
  beatAt(timeMs: number): number;
  /** Length of the beat (whole number) that begins here. */
  beatMs(beat: number): number;
}

/**
 * The clock of a form under a tempo. A steady tempo counts the meter's beat unit, whatever the meter, so beat n
 * lies at n × 60000 / tempo; a file's tempo map counts quarters, so compound bars are longer there.
 */
export function createBeatClock(form: Form, tempo: TakeTempo): BeatClock {
  if (tempo.kind === 'steady') {
    const beatMs = 60_000 / tempo.tempoBpm;
    return {
      timeMs: (beat) => beat * beatMs,
      beatAt: (timeMs) => timeMs / beatMs,
      beatMs: () => beatMs,
    };
  }
  const quarters = quarterAxis(form);
  const mappedMs = (beat: number): number => quarterTimeMs(tempo.points, quarters.ofBeat(beat));
  return {
    timeMs: mappedMs,
    beatAt: (timeMs) => quarters.beatOf(quarterAt(tempo.points, timeMs)),
    beatMs: (beat) => mappedMs(beat + 1) - mappedMs(beat),
  };
}

/**
 * The tempo at the first downbeat in beats of the form's first meter per minute, rounded to a thousandth: a
 * file's microseconds per quarter give 72.00003 where 72 was meant.
 */
export function openingTempoBpm(form: Form, tempo: TakeTempo): number {
  const clock = createBeatClock(form, tempo);
  const bpm = 60_000 / clock.beatMs(0);
  return Math.round(bpm * 1000) / 1000;
}

interface QuarterAxis {
  ofBeat(beat: number): number;
  beatOf(quarter: number): number;
}

/** Beats to quarters through the choruses of a form, which may mix simple and compound bars. */
function quarterAxis(form: Form): QuarterAxis {
  const beatQuarters: number[] = [];
  for (const bar of form.bars) {
    for (let beat = 0; beat < beatsPerBar(bar.meter); beat++) {
      beatQuarters.push(quartersPerBeat(bar.meter));
    }
  }
  const beats = beatQuarters.length;
  const starts = [0];
  for (const length of beatQuarters) starts.push((starts.at(-1) ?? 0) + length);
  const total = starts[beats] ?? 0;
  return {
    ofBeat(beat) {
      const chorus = Math.floor(beat / beats);
      const within = beat - chorus * beats;
      const whole = Math.floor(within);
      return chorus * total + (starts[whole] ?? 0) + (within - whole) * (beatQuarters[whole] ?? 1);
    },
    beatOf(quarter) {
      const chorus = Math.floor(quarter / total);
      const within = quarter - chorus * total;
      const whole = lastAtOrBefore(starts, within, (start) => start);
      const length = beatQuarters[whole] ?? 1;
      return chorus * beats + whole + (within - (starts[whole] ?? 0)) / length;
    },
  };
}

function quarterTimeMs(points: readonly TempoPoint[], quarter: number): number {
  const point = points[lastAtOrBefore(points, quarter, (entry) => entry.atQuarter)];
  return point ? point.atMs + (quarter - point.atQuarter) * point.msPerQuarter : 0;
}

function quarterAt(points: readonly TempoPoint[], timeMs: number): number {
  const point = points[lastAtOrBefore(points, timeMs, (entry) => entry.atMs)];
  return point ? point.atQuarter + (timeMs - point.atMs) / point.msPerQuarter : 0;
}

/** Index of the last entry at or before a value, 0 when all lie after it. Entries ascend. */
function lastAtOrBefore<Entry>(
  entries: readonly Entry[],
  value: number,
  key: (entry: Entry) => number,
): number {
  let low = 0;
  let high = entries.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    const entry = entries[middle];
    if (entry !== undefined && key(entry) <= value) low = middle;
    else high = middle - 1;
  }
  return low;
}
