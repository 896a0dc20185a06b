/** A measure before the first full one as the pickup of a chart. */

import { eighthsPerBeat, quartersPerBeat } from '../meter.ts';
import type { Meter, WrittenPickup } from '../model.ts';
import { longestPickup, pickupBeatsBefore, pickupMeter } from '../pickup.ts';
import { onBeats } from './on-beats.ts';
import type { MusicXmlNotice } from './problem.ts';
import type { ReadMeasure } from './read-measures.ts';

const EIGHTHS_IN_QUARTER = 2;
/** What is nearer to an eighth than this is the arithmetic of the file's divisions. */
const EXACT = 1e-6;

/**
 * The pickup a measure is, before bars of a meter; null when nothing in it lasts. A length that is no whole number of
 * eighths is rounded up, and one as long as a bar is an eighth shorter; both are told.
 */
export function readPickupMeasure(
  { number, quarters, chords }: ReadMeasure,
  meter: Meter,
  notices: MusicXmlNotice[],
): WrittenPickup | null {
  if (quarters <= 0) return null;
  const exact = quarters * EIGHTHS_IN_QUARTER;
  const whole = Math.max(1, Math.ceil(exact - EXACT));
  const eighths = Math.min(whole, longestPickup(meter));
  if (whole > eighths) {
    const what = `the pickup is as long as a bar; the chart has ${eighths} eighths of it`;
    notices.push({ measure: number, what });
  } else if (whole - exact > EXACT) {
    const what = `the pickup is no whole number of eighths; the chart has ${eighths} of them`;
    notices.push({ measure: number, what });
  }
  if (chords.length === 0) return { eighths, chords: [] };
  const short = pickupMeter(eighths, meter);
  // Counted back from the bar line: what the measure has before its first whole beat is a beat cut short.
  const before = pickupBeatsBefore(eighths, meter) * quartersPerBeat(meter);
  const shift = before + (eighths - exact) / EIGHTHS_IN_QUARTER;
  const perBeat = quartersPerBeat(meter);
  const placed = chords.map(({ atQuarter, symbol }) => {
    const exact = atQuarter === 0 ? 0 : Math.max(0, atQuarter + shift) / perBeat;
    const beat = Math.floor(2 * exact + EXACT) / 2;
    if (exact - beat > EXACT) {
      const what = `${symbol?.text ?? 'N.C.'} was moved to beat ${beat + 1} of the pickup: chords stand on beats and half-beats`;
      notices.push({ measure: number, what });
    }
    return { atQuarter: beat * perBeat, symbol };
  });
  return { eighths, chords: onBeats({ number, meter: short, chords: placed }, null, notices) };
}

/** Whether a score still says what the chart says of its pickup. A longer one holds notes of the melody before it. */
export function isSamePickup(
  own: WrittenPickup | null,
  read: WrittenPickup | null,
  meter: Meter,
): boolean {
  if (own === null) return true;
  if (read === null || read.eighths < own.eighths) return false;
  const [wanted, found] = [symbolsByHalfBeat(own), symbolsByHalfBeat(read)];
  if (wanted.length === 0 || found.length === 0) return wanted.length === found.length;
  // What a chord has of its beat before the pickup begins is not heard.
  const heard = Math.ceil((2 * own.eighths) / eighthsPerBeat(meter));
  return found.slice(-heard).join() === wanted.slice(-heard).join();
}

function symbolsByHalfBeat({ chords }: WrittenPickup): readonly string[] {
  return chords.flatMap(({ symbol, beats }): string[] =>
    Array.from({ length: 2 * beats }, () => symbol?.text ?? 'N.C.'),
  );
}
