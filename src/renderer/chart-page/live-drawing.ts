/**
 * The page's drawing while a line is played: only bars in which something changed are drawn anew, the others keep their
 * very objects. What it gives equals `drawChorus` of the whole chorus.
 */

import type { HeardNote, ReportChange, ReportSlot } from '../../core/grading/index.ts';
import {
  type BarDrawing,
  drawChorus,
  FIRST_REGISTER,
  type LineLayout,
  type Register,
  registerFor,
} from './line-model.ts';

/** Verdicts so far: arrays that only grow, and the notes not settled yet. */
export interface GrowingVerdicts {
  readonly settled: readonly ReportSlot[];
  readonly heard: ReadonlyMap<number, HeardNote>;
  readonly changes: readonly ReportChange[];
}

export type Drawings = ReadonlyMap<number, BarDrawing>;

/** Starts drawing the line of one take. What it answers draws a chorus (from 1) by the verdicts so far. */
export function createLiveDrawing(
  layout: LineLayout,
): (verdicts: GrowingVerdicts, chorus: number) => Drawings {
  let drawings: Drawings = new Map();
  let register: Register = FIRST_REGISTER;
  let drawnChorus = 0;
  let settledSeen = 0;
  let changesSeen = 0;
  let heardSeen: readonly number[] = [];

  /** The earliest bar, by its place in the form, that anything new lies in; null when there is nothing new. */
  function earliestNew(
    { settled, heard, changes }: GrowingVerdicts,
    chorus: number,
  ): number | null {
    const { form, grid } = layout;
    const firstBar = form.bars[0]?.bar ?? 1;
    const bars = [...heardSeen, ...heard.keys()]
      .filter((slot) => Math.floor(slot / grid.slotsPerChorus) === chorus - 1)
      .map((slot) => grid.slots[slot % grid.slotsPerChorus]?.barIndex ?? 0);
    for (const news of [settled.slice(settledSeen), changes.slice(changesSeen)]) {
      for (const { chorus: at, bar } of news) if (at === chorus) bars.push(bar - firstBar);
    }
    return bars.length === 0 ? null : Math.min(...bars);
  }

  return (verdicts, chorus) => {
    const { settled, heard, changes } = verdicts;
    const news = settled.slice(settledSeen).flatMap(({ note }) => (note ? [note.midi] : []));
    const grown = registerFor([...news, ...[...heard.values()].map(({ midi }) => midi)], register);
    const isSamePage =
      chorus === drawnChorus && grown.low === register.low && grown.high === register.high;
    const earliest = isSamePage ? earliestNew(verdicts, chorus) : 0;
    settledSeen = settled.length;
    changesSeen = changes.length;
    heardSeen = [...heard.keys()];
    if (earliest === null) return drawings;
    // A stroke that leads into what is new lies in the bar before it.
    const fromBarAt = Math.max(0, earliest - 1);
    register = grown;
    const source = { layout, settled, heard, changes };
    const drawn = drawChorus(source, chorus, register, fromBarAt);
    const firstBar = layout.form.bars[fromBarAt]?.bar ?? 1;
    const kept = isSamePage ? [...drawings].filter(([bar]) => bar < firstBar) : [];
    drawings = new Map([...kept, ...drawn.map((drawing) => [drawing.bar, drawing] as const)]);
    drawnChorus = chorus;
    return drawings;
  };
}
