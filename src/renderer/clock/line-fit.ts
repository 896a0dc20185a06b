/**
 * A line through readings that bears with wrong ones: its height is the median of the last two seconds, its slope that of
 * Theil and Sen over the last minute, told from the medians of single seconds. Source of the slope: P. K. Sen, "Estimates of the
 * regression coefficient based on Kendall's tau", JASA 63 (1968), 1379–1389, after H. Theil, 1950; from memory. The lengths
 * did best in our own simulation of late and torn readings (`tests/renderer/clock`).
 */

import { median } from './median.ts';
import { type ClockLine, offsetOf, type Reading } from './reading.ts';

const HEIGHT_MS = 2_000;
const BLOCK_MS = 1_000;
const MOST_BLOCKS = 60;
/** A slope told from fewer seconds than this is more noise than drift: until then the line is level. */
const FEWEST_BLOCKS = 10;
/** The clocks of computers and their sound cards differ by less. Own choice: ten times what a quartz is off by. */
const STEEPEST = 500e-6;

/** The middle of a second: where its line of readings passes. */
interface Block {
  readonly pageMs: number;
  readonly offsetMs: number;
}

export interface LineFit {
  /** The line with one more reading. */
  add(reading: Reading): ClockLine;
  /** All that was read lies so much higher from now on; `agreed` are the readings that say so. The slope survives. */
  shift(jumpMs: number, agreed: readonly Reading[]): ClockLine;
}

export function createLineFit(): LineFit {
  let recent: readonly Reading[] = [];
  let block: readonly Reading[] = [];
  let blocks: readonly Block[] = [];
  let slope = 0;

  function refit(): ClockLine {
    const atMs = recent.at(-1)?.pageMs ?? 0;
    const offsets = recent.map((reading) => offsetOf(reading) + slope * (atMs - reading.pageMs));
    return { atMs, offsetMs: median(offsets), slope };
  }

  function endBlock(): void {
    const pageMs = median(block.map((reading) => reading.pageMs));
    blocks = [...blocks, { pageMs, offsetMs: median(block.map(offsetOf)) }].slice(-MOST_BLOCKS);
    block = [];
    if (blocks.length >= FEWEST_BLOCKS) slope = theilSenSlope(blocks);
  }

  return {
    add(reading) {
      const oldestMs = reading.pageMs - HEIGHT_MS;
      recent = [...recent.filter(({ pageMs }) => pageMs >= oldestMs), reading];
      block = [...block, reading];
      if (reading.pageMs - (block[0]?.pageMs ?? 0) >= BLOCK_MS) endBlock();
      return refit();
    },
    shift(jumpMs, agreed) {
      blocks = blocks.map(({ pageMs, offsetMs }) => ({ pageMs, offsetMs: offsetMs + jumpMs }));
      block = [];
      recent = agreed;
      return refit();
    },
  };
}

/** The median slope over all pairs, within what clocks differ by. */
function theilSenSlope(blocks: readonly Block[]): number {
  const slopes: number[] = [];
  blocks.forEach((one, index) => {
    for (const other of blocks.slice(index + 1)) {
      slopes.push((other.offsetMs - one.offsetMs) / (other.pageMs - one.pageMs));
    }
  });
  return Math.max(-STEEPEST, Math.min(STEEPEST, median(slopes)));
}
