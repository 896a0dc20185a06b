/**
 * The report, schema `linekeeper.report/1`, exactly as `grading.md` lists it. Plain data that survives JSON.
 * `chorus`, `bar` and `beat` count from 1; `index`, `slot` and `sub` from 0. Bars count through the unrolled form.
 */

import type { TakeBreak, TakeSource } from '../take/model.ts';
import type {
  Arrival,
  BassVerdict,
  ExtraReason,
  Fault,
  Level,
  Mark,
  SlotsPerBeat,
} from '../words.ts';
import type { Reading } from './readings/model.ts';

export const REPORT_SCHEMA = 'linekeeper.report/1';

export interface ReportNote {
  readonly midi: number;
  /** Spelled in its palette or chord, with the octave: `Eb4` (MIDI 60 = C4). */
  readonly name: string;
  /** On the take's clock, latency taken off. */
  readonly onsetMs: number;
  /** Onset minus the slot's nominal time: negative is early. */
  readonly deviationMs: number;
  readonly velocity: number;
  readonly durationMs: number;
}

export interface ReportSlot {
  readonly index: number;
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  readonly sub: number;
  /** As written; `N.C.` where there is none. */
  readonly chord: string;
  /** `D dorian`; `none` under `N.C.`. */
  readonly palette: string;
  readonly nominalMs: number;
  readonly note: ReportNote | null;
  /** False where a break touches the slot's cell: then it has neither faults nor marks. */
  readonly judged: boolean;
  readonly faults: readonly Fault[];
  readonly marks: readonly Mark[];
}

export interface ReportExtra {
  readonly midi: number;
  readonly onsetMs: number;
  readonly slot: number;
  readonly reason: ExtraReason;
}

export interface ReportChange {
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  /** The slot c where the new palette begins; at `free`, the first note that belongs to the new chord. */
  readonly slot: number;
  readonly fromChord: string;
  readonly toChord: string;
  readonly fromPalette: string;
  readonly toPalette: string;
  readonly arrival: Arrival;
  /** Slots from c through the last old-palette note before the proof; null unless `late`. */
  readonly bySlots: number | null;
  readonly earlyBy: number;
  /** The slot whose note proved the change, or null. */
  readonly provenAt: number | null;
}

export interface ReportBass {
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  readonly expectedPc: number;
  readonly midi: number | null;
  readonly deviationMs: number | null;
  readonly verdict: BassVerdict;
}

export interface ReportBar {
  readonly chorus: number;
  readonly bar: number;
  readonly slots: number;
  readonly clean: number;
  readonly gap: number;
  readonly early: number;
  readonly late: number;
  readonly outside: number;
  readonly interval: number;
  readonly extra: number;
  readonly lateChanges: number;
  /** Slots that a break touched; `slots` and all the rest count the others. */
  readonly unjudged: number;
}

/** A statistic over no values is null, never NaN. */
export interface TimingSummary {
  readonly meanMs: number | null;
  readonly sdMs: number | null;
  readonly medianMs: number | null;
  /** Least-squares slope of deviation over bars: positive drags. */
  readonly slopeMsPerBar: number | null;
  /** Played long : short, median over beats with both eighths filled; null unless there are 2 slots per beat. */
  readonly swingRatio: number | null;
  /** By how much the notes lie off as a whole, steadily, where that explains their timing faults; else null. */
  readonly steadyOffsetMs: number | null;
  /** The ratio played steadily in place of the one set; else null. */
  readonly steadySwing: number | null;
}

export interface LineSummary {
  readonly lowest: number | null;
  readonly highest: number | null;
  /** Changes of melodic direction. */
  readonly turns: number;
  /** Most clean slots in a row. */
  readonly longestRun: number;
  /** Share of notes on the beat that are chord tones; null when there are none. */
  readonly chordTonesOnBeats: number | null;
  /** Count by size in semitones, signs dropped: `"0"`, `"1"`, … */
  readonly intervals: Readonly<Record<string, number>>;
}

/** How rhythm was used at `free`, where it is described and not judged. */
export interface RhythmSummary {
  /** Share of each time between onsets, rounded to twelfths of a beat: key `"6"` is half a beat. */
  readonly values: Readonly<Record<string, number>>;
  /** Silences of at least half a beat between a note's end and the next onset. */
  readonly rests: number;
  /** Share of notes off the beat that last past the next beat. */
  readonly syncopation: number | null;
  /** Median distance to the nearest eighth, triplet or sixteenth. */
  readonly medianDeviationMs: number | null;
}

export interface ReportSummary {
  readonly slots: number;
  readonly clean: number;
  /** clean / slots; null when nothing was graded. */
  readonly cleanRate: number | null;
  readonly unplayed: number;
  /** Slots that a break touched; `slots` and all the rest count the others. */
  readonly unjudged: number;
  readonly gap: number;
  readonly early: number;
  readonly late: number;
  readonly outside: number;
  readonly interval: number;
  readonly extra: number;
  readonly changes: {
    readonly counted: number;
    readonly onTime: number;
    readonly late: number;
    readonly early: number;
    readonly unproven: number;
  };
  readonly timing: TimingSummary;
  readonly line: LineSummary;
  /** Only at `free`. */
  readonly rhythm?: RhythmSummary;
}

/** The note on the first slot after the last bar: neither clean nor a fault. */
export interface ReportClosing {
  readonly midi: number;
  readonly name: string;
  readonly onsetMs: number;
  readonly deviationMs: number;
  /** The chord that comes next; `N.C.` where there is none. */
  readonly chord: string;
  readonly chordTone: boolean;
}

export interface Report {
  readonly schema: typeof REPORT_SCHEMA;
  readonly chart: string;
  readonly plan: string;
  readonly level: Level;
  readonly tempo: number;
  readonly meter: string;
  readonly slotsPerBeat: SlotsPerBeat;
  readonly swing: number;
  /** Of the source of most line notes, as `splitMidi`. */
  readonly latencyMs: number;
  readonly splitMidi: number | null;
  readonly sources: readonly TakeSource[];
  readonly breaks: readonly TakeBreak[];
  readonly slots: readonly ReportSlot[];
  readonly extras: readonly ReportExtra[];
  readonly changes: readonly ReportChange[];
  readonly closing: ReportClosing | null;
  /** At most three, those that clear most first. */
  readonly readings: readonly Reading[];
  readonly leftHand: readonly ReportBass[];
  readonly bars: readonly ReportBar[];
  readonly summary: ReportSummary;
}
