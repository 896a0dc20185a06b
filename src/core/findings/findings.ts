/** What a report found, as paragraphs: changes, notes outside, intervals, gaps, extras, timing, left hand. */

import { parseMeter, quartersPerBeat } from '../chart/index.ts';
import type { Report, ReportSlot } from '../grading/index.ts';
import { counted, ms, percent, placeOf } from './places.ts';

/** One finding in words, and the place it was found at, or null when it is about the whole take. */
export interface Finding {
  readonly text: string;
  readonly place: { readonly chorus: number; readonly bar: number } | null;
}

export interface Paragraph {
  readonly title: string;
  readonly lines: readonly Finding[];
}

function atPlace(
  { chorus, bar }: { readonly chorus: number; readonly bar: number },
  text: string,
): Finding {
  return { text, place: { chorus, bar } };
}

function overall(text: string): Finding {
  return { text, place: null };
}

/** The paragraphs that have something to say, in the order a player asks for them. */
export function findings(report: Report): readonly Paragraph[] {
  const paragraphs = [
    unjudged(report),
    changes(report),
    outside(report),
    intervals(report),
    onsets(report),
    timing(report),
    rhythm(report),
    leftHand(report),
    closing(report),
  ];
  return paragraphs.filter(({ lines }) => lines.length > 0);
}

/** What the take has no verdict on, and why. */
function unjudged(report: Report): Paragraph {
  const lines = report.slots
    .filter((slot, index) => !slot.judged && report.slots[index - 1]?.judged !== false)
    .map((first) => {
      const after = report.slots.findIndex(({ judged, index }) => index > first.index && judged);
      const slots = (after < 0 ? report.slots.length : after) - first.index;
      const where = placeOf(first, gridOf(report));
      return atPlace(first, `from ${where}: ${counted(slots, unitOf(report))}`);
    });
  const all = counted(report.summary.unjudged, unitOf(report));
  return { title: `Not judged, the sound stood still: ${all}`, lines };
}

function closing({ closing: last }: Report): Paragraph {
  if (last === null) return { title: 'Closing note', lines: [] };
  const { name, chord, chordTone, deviationMs } = last;
  const tone = chordTone ? 'a chord tone' : 'no chord tone';
  const side = deviationMs < 0 ? 'before' : 'after';
  const words = `${name}, ${tone} of ${chord}, ${ms(Math.abs(deviationMs))} ${side} the downbeat`;
  return { title: 'Closing note', lines: [overall(words)] };
}

function gridOf(report: Report): number | 'twelfths' {
  return report.level === 'free' ? 'twelfths' : report.slotsPerBeat;
}

function changes(report: Report): Paragraph {
  const { counted: all, onTime, early } = report.summary.changes;
  const lines = report.changes.flatMap((change) => {
    const where = `chorus ${change.chorus}, bar ${change.bar}, beat ${change.beat}`;
    const what = `${change.fromChord} → ${change.toChord} (${change.toPalette})`;
    if (change.arrival === 'late') {
      const by = counted(change.bySlots ?? 0, unitOf(report));
      return [atPlace(change, `${where}: ${what} late by ${by}`)];
    }
    if (change.arrival !== 'unproven') return [];
    return [atPlace(change, `${where}: ${what} unproven, common tones only`)];
  });
  const before = early === 0 ? '' : `, ${early} begun early`;
  return { title: `Changes: ${onTime} of ${all} on time${before}`, lines };
}

function unitOf(report: Report): string {
  return report.level === 'free' ? 'note' : 'slot';
}

function withFault(report: Report, fault: ReportSlot['faults'][number]): readonly ReportSlot[] {
  return report.slots.filter(({ faults }) => faults.includes(fault));
}

function outside(report: Report): Paragraph {
  const slots = withFault(report, 'outside');
  return {
    title: `Outside: ${counted(slots.length, 'note')}`,
    lines: slots.map((slot) => {
      const where = placeOf(slot, gridOf(report));
      return atPlace(slot, `${where}: ${slot.note?.name} over ${slot.chord} (${slot.palette})`);
    }),
  };
}

function intervals(report: Report): Paragraph {
  const slots = withFault(report, 'interval');
  return {
    title: `Intervals not open at ${report.level}: ${slots.length}`,
    lines: slots.map((slot) => {
      const before = report.slots[slot.index - 1]?.note;
      const size = Math.abs((slot.note?.midi ?? 0) - (before?.midi ?? 0));
      const what = size === 0 ? 'repeat' : counted(size, 'semitone');
      const where = placeOf(slot, gridOf(report));
      return atPlace(slot, `${where}: ${before?.name} to ${slot.note?.name}, ${what}`);
    }),
  };
}

function onsets(report: Report): Paragraph {
  const { gap, early, late, extra } = report.summary;
  const lines = report.slots.flatMap((slot) => {
    const words = slot.faults.filter((fault) => ['gap', 'early', 'late', 'extra'].includes(fault));
    if (words.length === 0) return [];
    const off = slot.note === null ? '' : ` (${ms(slot.note.deviationMs)})`;
    const isTiming = words.includes('early') || words.includes('late');
    const where = placeOf(slot, gridOf(report));
    return [atPlace(slot, `${where}: ${words.join(', ')}${isTiming ? off : ''}`)];
  });
  return { title: `Gaps ${gap}, early ${early}, late ${late}, extra ${extra}`, lines };
}

function timing(report: Report): Paragraph {
  const { meanMs, sdMs, medianMs, slopeMsPerBar, swingRatio } = report.summary.timing;
  if (meanMs === null || sdMs === null || medianMs === null) return { title: 'Timing', lines: [] };
  const lines = [
    overall(
      `on average ${ms(Math.abs(meanMs))} ${meanMs < 0 ? 'before' : 'after'} the grid, median ${ms(medianMs)}, spread ${ms(sdMs)}`,
    ),
  ];
  if (slopeMsPerBar !== null) lines.push(overall(driftWords(slopeMsPerBar)));
  if (swingRatio !== null) lines.push(overall(`swing ${swingRatio.toFixed(2)} : 1`));
  return { title: 'Timing', lines };
}

/** Under this, a drift is not told from none over the bars of a few choruses. Common practice, no source. */
const STEADY_MS_PER_BAR = 0.3;

function driftWords(slopeMsPerBar: number): string {
  const size = ms(Math.abs(slopeMsPerBar));
  if (Math.abs(slopeMsPerBar) < STEADY_MS_PER_BAR) return `holds the tempo (${size} per bar)`;
  return slopeMsPerBar > 0 ? `drags ${size} per bar` : `rushes ${size} per bar`;
}

/** Lengths in twelfths of a quarter by name. */
const VALUE_NAMES = new Map([
  [2, 'triplet sixteenths'],
  [3, 'sixteenths'],
  [4, 'triplet eighths'],
  [6, 'eighths'],
  [8, 'triplet quarters'],
  [12, 'quarters'],
  [18, 'dotted quarters'],
  [24, 'halves'],
]);

/** A length in twelfths of a beat by its name in this meter. */
function valueName(twelfths: string, meter: string): string {
  const read = parseMeter(meter);
  const quarters = read === null ? 1 : quartersPerBeat(read);
  return VALUE_NAMES.get(Number(twelfths) * quarters) ?? `${twelfths}/12 of a beat`;
}

function rhythm(report: Report): Paragraph {
  const { rhythm: used } = report.summary;
  if (used === undefined) return { title: 'Rhythm', lines: [] };
  const shares = Object.entries(used.values)
    .sort(([, a], [, b]) => b - a)
    .slice(0, 4)
    .map(([value, share]) => `${valueName(value, report.meter)} ${percent(share)}`);
  const off =
    used.syncopation === null ? '' : `, ${percent(used.syncopation)} of off-beat notes held over`;
  return {
    title: 'Rhythm',
    lines: [overall(shares.join(', ')), overall(`${counted(used.rests, 'rest')}${off}`)],
  };
}

function leftHand(report: Report): Paragraph {
  const all = report.leftHand;
  const roots = all.filter(({ verdict }) => verdict === 'root').length;
  return {
    title: `Left hand: ${roots} of ${counted(all.length, 'bass note')} right`,
    lines: all
      .filter(({ verdict }) => verdict !== 'root')
      .map((bass) => {
        const { chorus, bar, beat, verdict } = bass;
        return atPlace(bass, `chorus ${chorus}, bar ${bar}, beat ${beat}: ${verdict}`);
      }),
  };
}
