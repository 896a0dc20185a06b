/** How long a line may get, asked before a take from elsewhere is graded. */

import type { Form } from '../chart/index.ts';
import { createBeatClock, createSlotGrid } from '../grid/index.ts';
import type { TakeEvents } from '../take/model.ts';
import { gradedSources, sourceOf } from '../take/sources.ts';
import { completeSettings, type GradeSettings } from './settings.ts';

/** More than a day of eighths at 60 without a pause: what is longer was not played so. Own rule. */
export const MOST_SLOTS = 200_000;

/**
 * The slots up to the last key-down, or to the planned end, as the grid lies under these settings; infinite where no
 * time reaches it.
 * A note after a silence of hours, or a tempo map of a microsecond, makes a small file owe more than memory holds.
 */
export function slotsOwed(form: Form, take: TakeEvents, settings: GradeSettings): number {
  const complete = completeSettings(settings);
  const clock = createBeatClock(form, complete.tempo);
  const grid = createSlotGrid(form, clock, complete);
  const sources = gradedSources(take.sources, settings);
  let lastMs = Number.NEGATIVE_INFINITY;
  for (const event of take.events) {
    if (event.kind !== 'noteOn') continue;
    lastMs = Math.max(lastMs, event.atMs - sourceOf(event, sources).latencyMs);
  }
  if (lastMs === Number.NEGATIVE_INFINITY) return 0;
  const beats = clock.beatAt(lastMs);
  const slots = Math.ceil((beats * grid.slotsPerChorus) / grid.beatsPerChorus);
  if (Number.isNaN(slots)) return Number.POSITIVE_INFINITY;
  return Math.max(0, Math.min(slots, grid.plannedSlots ?? slots));
}

/** Beats before the first downbeat and after the last key-down are no slots, but a saved file counts them. Own rule. */
const FURTHEST_BEAT = 100 * MOST_SLOTS;

/** Whether a take can be graded at this tempo, and saved again, at all. Events in order of time. */
export function isGradable(form: Form, take: TakeEvents, settings: GradeSettings): boolean {
  if (!(slotsOwed(form, take, settings) <= MOST_SLOTS)) return false;
  const clock = createBeatClock(form, settings.tempo);
  const ends = [take.events[0]?.atMs ?? 0, take.events.at(-1)?.atMs ?? 0, take.endMs];
  return ends.every((atMs) => Math.abs(clock.beatAt(atMs)) <= FURTHEST_BEAT);
}

/** What to say where it cannot, and what to do. */
export const NOT_GRADABLE = {
  message: `At this tempo its last note lies more than ${MOST_SLOTS} slots after the first downbeat.`,
  remedy: 'Check the tempo and the first downbeat.',
} as const;
