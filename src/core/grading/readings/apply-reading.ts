/** What to grade with by another reading. Source: `grading.md`, "Other readings". */

import { transposeForm } from '../../chart/index.ts';
import type { Form } from '../../chart/model.ts';
import type { TakeEvents } from '../../take/model.ts';
import type { Level } from '../../words.ts';
import { completeSettings, type GradeSettings } from '../settings.ts';
import { keyboardsOf, slotAxis } from './ground.ts';
import type { ReadingValue, TimingValue } from './model.ts';
import { NO_SHIFT, type SlotShift, shiftTake } from './shift.ts';

/** Everything a take is graded with. */
export interface Graded {
  readonly form: Form;
  readonly take: TakeEvents;
  readonly settings: GradeSettings;
}

/** How a reading moves the slots. */
export function shiftOf(reading: ReadingValue): SlotShift {
  if (reading.kind !== 'start' && reading.kind !== 'slip') return NO_SHIFT;
  return { fromSlot: reading.fromSlot, slots: reading.value };
}

/**
 * What a take is to be graded with by a reading of it: the form moved to another key, the events moved by slots, or other settings.
 * The times of a moved take are on a clock of their own, whose 0 is the downbeat it is read from. Problems: none.
 */
export function applyReading(played: Graded, reading: ReadingValue): Graded {
  const { form, take, settings } = played;
  switch (reading.kind) {
    case 'timing':
      return withTiming(played, reading.value);
    case 'split':
      return { form, take, settings: { ...settings, splitMidi: reading.value } };
    case 'key':
      return { form: transposeForm(form, reading.value), take, settings };
    case 'level':
      return { form, take, settings: { ...settings, ...rulesOf(reading.value, settings) } };
    case 'start':
    case 'slip': {
      const axis = slotAxis(form, settings);
      const { latencyMs } = keyboardsOf(take, settings);
      return { form, take: shiftTake(take, axis, shiftOf(reading), latencyMs), settings };
    }
  }
}

/** Whatever is off is off on every keyboard by the same. */
function withTiming({ form, take, settings }: Graded, { swing, latencyMs }: TimingValue): Graded {
  const { sources, main } = keyboardsOf(take, settings);
  const { latencyMs: _override, ...others } = settings;
  const moved = sources.map((source) => ({
    ...source,
    latencyMs: source.latencyMs + latencyMs - main.latencyMs,
  }));
  return { form, take: { ...take, sources: moved }, settings: { ...others, swing } };
}

/** A level with its own defaults, whatever was set at the other. */
function rulesOf(level: Level, { tempo }: GradeSettings): Partial<GradeSettings> {
  const { approach, repeats, lineUp, anticipation } = completeSettings({ level, tempo });
  return { level, approach, repeats, lineUp, anticipation };
}
