/** Readings that may be worth a grading, at most seven; told by looks alone. */

import { defaultSlotsPerBeat } from '../../grid/index.ts';
import type { Level } from '../../words.ts';
import { LEAST_CLEARED, misses, SHARE_CLEARED } from './cleared.ts';
import type { Ground } from './ground.ts';
import type { ReadingValue } from './model.ts';
import { type Candidate, createScreen } from './screen.ts';
import { guessSplit, onsetsOf } from './split-guess.ts';
import { type Steady, timingValue } from './steady.ts';

/** Entries that are graded: the two that look best. */
const STARTS_GRADED = 2;

/** What may be graded otherwise: each kind at most once, an entry at most twice. */
export function candidates(ground: Ground, steady: Steady): readonly ReadingValue[] {
  const screen = createScreen(ground);
  return [
    ...timings(ground, steady),
    ...splits(ground),
    ...screen.starts().slice(0, STARTS_GRADED).map(asStart),
    ...asList(screen.key()).map(asKey),
    ...asList(screen.slip()).flatMap(asSlip),
    ...levels(ground),
  ];
}

function asList<Value>(value: Value | null): readonly Value[] {
  return value === null ? [] : [value];
}

function asStart({ value }: Candidate): ReadingValue {
  return { kind: 'start', value, fromSlot: null };
}

function asKey({ value }: Candidate): ReadingValue {
  return { kind: 'key', value, fromSlot: null };
}

function asSlip({ value, fromSlot }: Candidate): readonly ReadingValue[] {
  return fromSlot === null ? [] : [{ kind: 'slip', value, fromSlot }];
}

function timings(ground: Ground, steady: Steady): readonly ReadingValue[] {
  const value = timingValue(steady, ground);
  return value === null ? [] : [{ kind: 'timing', value, fromSlot: null }];
}

/** A split where none is set, or none where one is. */
function splits({ form, take, settings, axis, keyboards }: Ground): readonly ReadingValue[] {
  const isSplit = keyboards.sources.some(({ splitMidi }) => splitMidi !== null);
  if (isSplit) return [{ kind: 'split', value: null, fromSlot: null }];
  const slotsInBeat = settings.slotsPerBeat ?? defaultSlotsPerBeat(form.meter);
  const onsets = onsetsOf(take.events, keyboards.latencyMs);
  const value = guessSplit(
    onsets,
    (atMs) => axis.grid.beatMs(axis.slotBefore(atMs)) / slotsInBeat / 2,
  );
  return value === null ? [] : [{ kind: 'split', value, fromSlot: null }];
}

const WIDER: Readonly<Partial<Record<Level, Level>>> = { steps: 'thirds', thirds: 'leaps' };

/** The next level up, where the faults it may excuse are enough. */
function levels({ base }: Ground): readonly ReadingValue[] {
  const value = WIDER[base.level];
  const { interval, outside } = base.summary;
  const enough = Math.max(LEAST_CLEARED, SHARE_CLEARED * misses(base, () => true));
  if (value === undefined || interval + outside < enough) return [];
  return [{ kind: 'level', value, fromSlot: null }];
}
