/** What every reading is looked for on: the take as it was graded, and the grid it was graded by. */

import type { Form } from '../../chart/model.ts';
import { createBeatClock } from '../../grid/beat-clock.ts';
import { createSlotGrid, type SlotGrid } from '../../grid/slot-grid.ts';
import type { TakeEvent, TakeEvents, TakeSource } from '../../take/model.ts';
import { gradedSources, sourceOf, UNKNOWN_SOURCE } from '../../take/sources.ts';
import type { Report } from '../report.ts';
import { type CompleteSettings, completeSettings, type GradeSettings } from '../settings.ts';

export interface Ground {
  readonly form: Form;
  readonly take: TakeEvents;
  /** As given. */
  readonly settings: GradeSettings;
  readonly complete: CompleteSettings;
  readonly base: Report;
  readonly axis: SlotAxis;
  readonly keyboards: Keyboards;
}

/** Slots against time, through all choruses; −1 is the slot before the first downbeat. */
export interface SlotAxis {
  readonly grid: SlotGrid;
  timeMs(slot: number): number;
  /** The last slot whose time is not after this. */
  slotBefore(timeMs: number): number;
}

/** The grid a take is graded by under these settings. The form must have at least one bar. */
export function slotAxis(form: Form, settings: GradeSettings): SlotAxis {
  const complete = completeSettings(settings);
  const clock = createBeatClock(form, complete.tempo);
  const grid = createSlotGrid(form, clock, complete);
  const firstOfBeat = new Int32Array(grid.beatsPerChorus);
  grid.slots.forEach(({ beatInChorus, sub }, slot) => {
    if (sub === 0) firstOfBeat[beatInChorus] = slot;
  });
  return {
    grid,
    timeMs: grid.timeMs,
    slotBefore(timeMs) {
      const beat = Math.floor(clock.beatAt(timeMs));
      const chorus = Math.floor(beat / grid.beatsPerChorus);
      const inChorus = beat - chorus * grid.beatsPerChorus;
      let slot = chorus * grid.slotsPerChorus + (firstOfBeat[inChorus] ?? 0);
      while (grid.timeMs(slot + 1) <= timeMs) slot++;
      while (grid.timeMs(slot) > timeMs) slot--;
      return slot;
    },
  };
}

export function layGround(
  form: Form,
  take: TakeEvents,
  settings: GradeSettings,
  base: Report,
): Ground {
  const axis = slotAxis(form, settings);
  const keyboards = keyboardsOf(take, settings);
  return { form, take, settings, complete: completeSettings(settings), base, axis, keyboards };
}

/** The keyboards of a take as it is graded, and what they take off an event before anything else. */
export interface Keyboards {
  readonly sources: readonly TakeSource[];
  /** The one most of the line came from. */
  readonly main: TakeSource;
  latencyMs(event: TakeEvent): number;
}

export function keyboardsOf(
  { events, sources: own }: TakeEvents,
  settings: GradeSettings,
): Keyboards {
  const sources = gradedSources(own, settings);
  const counts = sources.map(() => 0);
  let most = 0;
  for (const event of events) {
    if (event.kind !== 'noteOn' || event.velocity === 0) continue;
    const index = event.source ?? 0;
    if (event.midi < (sourceOf(event, sources).splitMidi ?? 0)) continue;
    counts[index] = (counts[index] ?? 0) + 1;
    if ((counts[index] ?? 0) > (counts[most] ?? 0)) most = index;
  }
  return {
    sources,
    main: sources[most] ?? UNKNOWN_SOURCE,
    latencyMs: (event) => sourceOf(event, sources).latencyMs,
  };
}
