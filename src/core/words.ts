/**
 * The one vocabulary. Every word here means what `grading.md` says it means; screens, reports, the store and
 * the tests import it from here, so that a word is spelled once.
 */

/** Which melodic intervals the line may use, from the narrowest to the freest. */
export const LEVELS = ['steps', 'thirds', 'leaps', 'free'] as const;
export type Level = (typeof LEVELS)[number];

/** What can be wrong with a slot; a slot with none of them is clean. In the order reports list them. */
export const FAULTS = ['gap', 'early', 'late', 'outside', 'interval', 'extra'] as const;
export type Fault = (typeof FAULTS)[number];
export type TimingFault = Extract<Fault, 'early' | 'late'>;

/** What a note was excused by; a mark is never a fault. */
export const MARKS = ['approach', 'lineUp', 'anticipation'] as const;
export type Mark = (typeof MARKS)[number];

/** How a change of palette showed in the line. */
export const ARRIVALS = ['onTime', 'late', 'unproven', 'unchanged', 'unjudged'] as const;
export type Arrival = (typeof ARRIVALS)[number];

/** Why an onset is not a slot's note: the quieter key of one strike, or more than the slot owed. */
export type ExtraReason = 'double' | 'spare';

/** What the left hand did with the bass note a chord's start owes it. */
export const BASS_VERDICTS = ['root', 'other', 'missing'] as const;
export type BassVerdict = (typeof BASS_VERDICTS)[number];

/** What a practice tempo should do next. */
export const READINESS = ['raise', 'hold', 'ease'] as const;
export type Readiness = (typeof READINESS)[number];

/** What a picture over takes counts in bars: the faults of a slot, and a change that did not arrive on time. */
export const HEAT_RULES = [...FAULTS, 'change'] as const;
export type HeatRule = (typeof HEAT_RULES)[number];

/** How a change arrived: on time, late by so many slots, or never proven. */
export const LATENESS = ['onTime', 'by1', 'by2', 'by3', 'byMore', 'unproven'] as const;
export type Lateness = (typeof LATENESS)[number];

/** Why a practice is due: it fades, its goal has not held yet, or too little was played to tell how it stands. */
export const DUE_REASONS = ['fading', 'goalAhead', 'untold'] as const;
export type DueReason = (typeof DUE_REASONS)[number];

/** What another reading of a take sets otherwise, in the order they go by when they clear the same. */
export const READING_KINDS = ['timing', 'split', 'start', 'key', 'slip', 'level'] as const;
export type ReadingKind = (typeof READING_KINDS)[number];

/** What a player said to a reading: grade by it, or leave the take as it is. */
export const READING_CHOICES = ['taken', 'refused'] as const;
export type ReadingChoice = (typeof READING_CHOICES)[number];

/** Whether a rule of the grader lets a thing pass or names it as a fault. */
export const ALLOWANCES = ['allow', 'flag'] as const;
export type Allowance = (typeof ALLOWANCES)[number];

/** The plan every chart has: its own chords and palettes as written. */
export const PLAIN = 'plain';

/** Slots per beat that a player may set. */
export const SLOTS_PER_BEAT = [1, 2, 3, 4] as const;
export type SlotsPerBeat = (typeof SLOTS_PER_BEAT)[number];
