/** Ticks to milliseconds through a file's tempo map, by a running sum over its tempo changes. */

import type { TempoPoint } from '../model.ts';
import type { SmfMeta } from './meta-events.ts';
import { DEFAULT_US_PER_QUARTER, META, type SmfDivision } from './model.ts';

export interface TickClock {
  /** Time of a tick from the start of the file, ms. Fast when ticks ascend. */
  timeMs(tick: number): number;
  /** Starts over with early ticks; only speed depends on it. */
  rewind(): void;
  /** The tempo map with times and quarters counted from a moment of the file. */
  pointsFrom(startMs: number): readonly TempoPoint[];
}

interface Stretch {
  readonly tick: number;
  readonly atMs: number;
  readonly usPerQuarter: number;
}

/**
 * The clock of a file, by its division and its meta events. A file that counts in frames has real time in its ticks and no tempo: its map is the default,
 * 120 quarters per minute. Source: SMF, "Set Tempo" and "Header Chunks".
 */
export function createTickClock(division: SmfDivision, metas: readonly SmfMeta[]): TickClock {
  if (division.kind === 'frames') {
    const msPerTick = 1000 / (division.framesPerSecond * division.ticksPerFrame);
    const msPerQuarter = DEFAULT_US_PER_QUARTER / 1000;
    return {
      timeMs: (tick) => tick * msPerTick,
      rewind() {},
      pointsFrom: () => [{ atMs: 0, atQuarter: 0, msPerQuarter }],
    };
  }
  const { ticksPerQuarter } = division;
  const stretches = tempoStretches(metas, ticksPerQuarter);
  let current = 0;

  function stretchAt(tick: number): Stretch {
    if ((stretches[current]?.tick ?? 0) > tick) current = 0;
    while ((stretches[current + 1]?.tick ?? Number.POSITIVE_INFINITY) <= tick) current++;
    return stretches[current] ?? FIRST;
  }

  return {
    timeMs(tick) {
      const stretch = stretchAt(tick);
      return (
        stretch.atMs + ((tick - stretch.tick) * stretch.usPerQuarter) / (ticksPerQuarter * 1000)
      );
    },
    rewind() {
      current = 0;
    },
    pointsFrom(startMs) {
      const first = stretches.findLast(({ atMs }) => atMs <= startMs) ?? FIRST;
      const startQuarter =
        first.tick / ticksPerQuarter + ((startMs - first.atMs) * 1000) / first.usPerQuarter;
      return stretches.map(({ tick, atMs, usPerQuarter }) => ({
        atMs: atMs - startMs,
        atQuarter: tick / ticksPerQuarter - startQuarter,
        msPerQuarter: usPerQuarter / 1000,
      }));
    },
  };
}

const FIRST: Stretch = { tick: 0, atMs: 0, usPerQuarter: DEFAULT_US_PER_QUARTER };

function tempoStretches(metas: readonly SmfMeta[], ticksPerQuarter: number): readonly Stretch[] {
  const changes = metas
    .flatMap(({ type, tick, bytes: [high = 0, middle = 0, low = 0] }) => {
      const usPerQuarter = (high << 16) | (middle << 8) | low;
      return type !== META.tempo || usPerQuarter === 0 ? [] : [{ tick, usPerQuarter }];
    })
    .sort((a, b) => a.tick - b.tick);
  const stretches: Stretch[] = [FIRST];
  for (const { tick, usPerQuarter } of changes) {
    const last = stretches.at(-1) ?? FIRST;
    const atMs = last.atMs + ((tick - last.tick) * last.usPerQuarter) / (ticksPerQuarter * 1000);
    if (tick === last.tick) stretches.pop();
    stretches.push({ tick, atMs, usPerQuarter });
  }
  return stretches;
}
