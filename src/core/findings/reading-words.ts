/** Another reading of a take in words: what was heard, and by which option the command grades by it. */

import { beatsPerBar, type Form, transposeForm } from '../chart/index.ts';
import type { Reading, Report } from '../grading/index.ts';
import { defaultSlotsPerBeat } from '../grid/index.ts';
import { formatKey, spellMidi } from '../theory/index.ts';
import { counted } from './places.ts';

/** One or two short sentences, for before any list of faults. The report is that of the take as it was played, over the form. */
export function describeReading(reading: Reading, report: Report, form: Form): string {
  const { clears, of } = reading;
  return `${whatWasHeard(reading, report, form)} Graded by that, ${clears} of ${counted(of, 'fault')} go.`;
}

function whatWasHeard(reading: Reading, report: Report, form: Form): string {
  switch (reading.kind) {
    case 'timing':
      return timingWords(reading.value, report);
    case 'split':
      return reading.value === null
        ? 'The split cuts the line: keys of the line below it were taken for the left hand.'
        : `The left hand plays below ${keyName(reading.value, form)} and no split is set, so its notes count as the line’s.`;
    case 'start': {
      const size = sizeWords(Math.abs(reading.value), report, form);
      return reading.value > 0
        ? `You came in ${size} late.`
        : `From the start you are ${size} ahead of the chart.`;
    }
    case 'key': {
      const { key } = transposeForm(form, reading.value);
      const side = reading.value > 0 ? 'above' : 'below';
      return `The whole take sounds ${semitonesWords(Math.abs(reading.value))} ${side} the chart, in ${formatKey(key)}.`;
    }
    case 'slip': {
      const size = sizeWords(Math.abs(reading.value), report, form);
      const where = slotWords(reading.fromSlot, report);
      return reading.value > 0
        ? `From ${where} on you are ${size} behind the chart.`
        : `From ${where} on you are ${size} ahead of the chart: so much was lost there.`;
    }
    case 'level':
      return `Most of what is not clean at ${report.level} is open at ${reading.value}.`;
  }
}

function timingWords(
  { swing, latencyMs }: { readonly swing: number; readonly latencyMs: number },
  report: Report,
): string {
  const offsetMs = latencyMs - report.latencyMs;
  const off = `a steady ${Math.abs(offsetMs)} ms ${offsetMs > 0 ? 'late' : 'early'}`;
  const calibrate = 'Calibrate the keyboard and grade again.';
  if (swing === report.swing) return `You play ${off}. ${calibrate}`;
  const swings = `${swing === 1 ? 'You play straight' : `You swing ${ratioWords(swing)}`} where ${
    report.swing === 1 ? 'straight is set' : `${ratioWords(report.swing)} is set`
  }`;
  return offsetMs === 0 ? `${swings}.` : `${swings}, and play ${off}. ${calibrate}`;
}

function keyName(midi: number, { key }: Form): string {
  return spellMidi(midi, { palette: null, symbol: null, key });
}

/** `2.0 : 1`. */
export function ratioWords(swing: number): string {
  return `${swing.toFixed(1)} : 1`;
}

const SMALL_NUMBERS = ['', 'one', 'two', 'three', 'four', 'five', 'six'];

function semitonesWords(semitones: number): string {
  return semitones === 1 ? 'a semitone' : `${SMALL_NUMBERS[semitones] ?? semitones} semitones`;
}

/** `a bar`, `3 bars`, `an eighth`, `5 eighths`, or slots where they are no eighths. */
function sizeWords(slots: number, report: Report, form: Form): string {
  const bars = wholeBars(slots, report, form);
  if (bars !== null) return bars === 1 ? 'a bar' : `${bars} bars`;
  const isEighth = report.slotsPerBeat === defaultSlotsPerBeat(form.meter);
  if (slots === 1) return isEighth ? 'an eighth' : 'a slot';
  return counted(slots, isEighth ? 'eighth' : 'slot');
}

/** How many bars from the beginning of the form so many slots fill, or null when they end within one. */
function wholeBars(slots: number, report: Report, form: Form): number | null {
  const isUsual = report.slotsPerBeat === defaultSlotsPerBeat(form.meter);
  let left = slots;
  for (const [index, { meter }] of form.bars.entries()) {
    if (left === 0) return index;
    const slotsInBeat = isUsual ? defaultSlotsPerBeat(meter) : report.slotsPerBeat;
    left -= beatsPerBar(meter) * slotsInBeat;
  }
  return left === 0 ? form.bars.length : null;
}

function slotWords(slot: number, { slots }: Report): string {
  const { chorus = 1, bar = 1 } = slots[slot] ?? {};
  return chorus === 1 ? `bar ${bar}` : `chorus ${chorus}, bar ${bar}`;
}

/**
 * How the command grades by a reading; null where no option does. `startMs` is the time of the first downbeat in the file, and
 * `slotMs` that of a slot after it.
 */
export function readingRemedy(
  reading: Reading,
  report: Report,
  form: Form,
  { startMs, slotMs }: { readonly startMs: number; readonly slotMs: (slot: number) => number },
): string | null {
  switch (reading.kind) {
    case 'timing': {
      const { swing, latencyMs } = reading.value;
      const options = [
        ...(swing === report.swing ? [] : [`--swing ${swing}`]),
        ...(latencyMs === report.latencyMs ? [] : [`--latency ${latencyMs}`]),
      ];
      return `Grade by it with ${options.join(' ')}.`;
    }
    case 'split':
      return reading.value === null
        ? 'Grade by it without --split.'
        : `Grade by it with --split ${keyName(reading.value, form)}.`;
    case 'start':
      return reading.value < 0
        ? null
        : `Grade by it with --start ${Math.round(startMs + slotMs(reading.value))}.`;
    case 'key':
      return `Grade by it with the chart in ${formatKey(transposeForm(form, reading.value).key)}.`;
    case 'level':
      return `Grade by it with --level ${reading.value}.`;
    case 'slip':
      return null;
  }
}
