/** A line before it has keys: when its notes come and what each stands under; and the line that keys make of it. */

import type { Form } from '../chart/index.ts';
import { approachName, isChromatic, type PlayedNote } from '../grading/approach-name.ts';
import { type Course, layCourse } from '../grading/course.ts';
import { hasPc } from '../grading/palette-view.ts';
import type { CompleteSettings } from '../grading/settings.ts';
import { createBeatClock, createSlotGrid, formOnGrid } from '../grid/index.ts';
import { failure, type Outcome, success } from '../problem.ts';
import { type LineEntry, layEntries } from './legal/entries.ts';
import { LAYOUT_TEMPO, type Onsets, rhythmOnsets, slotOnsets } from './onsets.ts';
import type { BlankProblem, BlockedPlace } from './problems.ts';
import type { BeatRhythm } from './rhythm.ts';
import { chanceAt, STREAM } from './taste/noise.ts';
import { checkWish, type LineWish, MAX_LINE_NOTES, settingsOfWish } from './wish.ts';
import type { ClosingNote, NotePlace, WrittenLine } from './written-line.ts';

/** Velocity of a note off the beat, what a beat adds, and how far chance goes either way. Common practice, no source. */
const VELOCITY = 72;
const BEAT_ACCENT = 8;
const VELOCITY_SPREAD = 8;

/** How long a closing note is held, in beats. Common practice, no source. */
const CLOSING_BEATS = 2;

export interface BlankLine {
  readonly wish: LineWish;
  readonly settings: CompleteSettings;
  readonly course: Course;
  readonly onsets: Onsets;
  readonly rhythm: readonly BeatRhythm[] | null;
  /** One for each note. */
  readonly entries: readonly LineEntry[];
}

/** Makes the rhythm of every beat of so many choruses. */
export type RhythmMaker = (form: Form, choruses: number, seed: number) => readonly BeatRhythm[];

/**
 * Lays out the notes a wish asks for, one for every slot, or those of a rhythm. Problems: what of the wish cannot be
 * met, no bars, too many notes.
 */
export function blankLine(
  form: Form,
  wish: LineWish,
  makeRhythm: RhythmMaker | null,
): Outcome<BlankLine, BlankProblem> {
  const wrong = checkWish(wish);
  if (wrong.length > 0) return failure(...wrong);
  if (form.bars.length === 0) return failure({ code: 'noBars' });
  const course = layCourse(makeRhythm === null ? formOnGrid(form, wish.slotsPerBeat) : form);
  const settings = settingsOfWish(wish, LAYOUT_TEMPO);
  const { slotsPerChorus } = createSlotGrid(form, createBeatClock(form, LAYOUT_TEMPO), settings);
  const rhythm = makeRhythm === null ? null : makeRhythm(form, wish.choruses, wish.seed);
  const notes =
    rhythm === null
      ? slotsPerChorus * wish.choruses
      : rhythm.flat().filter(({ isRest }) => !isRest).length;
  if (notes > MAX_LINE_NOTES) return failure({ code: 'tooLong', notes, most: MAX_LINE_NOTES });
  const onsets =
    rhythm === null
      ? slotOnsets(course, settings, notes, course.beats * wish.choruses)
      : rhythmOnsets(course, settings, rhythm);
  const anticipates = settings.anticipation === 'allow';
  const entries = layEntries(course, onsets.places, notes, anticipates);
  return success({ wish, settings, course, onsets, rhythm, entries });
}

/** Gives each note of a blank line its key, in order, and after them the closing note, where there is one. */
export function fillLine(
  { wish, course, onsets, rhythm, entries }: BlankLine,
  midis: readonly number[],
  closingMidi: number | null = null,
): WrittenLine {
  const mayApproach = settingsOfWish(wish, LAYOUT_TEMPO).approach === 'allow';
  return {
    level: wish.level,
    slotsPerBeat: wish.slotsPerBeat,
    swing: wish.swing,
    choruses: wish.choruses,
    beats: onsets.beats,
    closing: closingMidi === null ? null : closingNote(course, onsets.beats, closingMidi),
    rhythm,
    notes: entries.map((entry, slot) => {
      const midi = midis[slot] ?? 0;
      return {
        slot,
        place: notePlace(entry),
        midi,
        name: mayApproach ? noteName(entries, midis, slot) : entry.chord.spell(midi),
        onsetBeats: onsets.onsetBeats[slot] ?? 0,
        durationBeats: onsets.durationBeats[slot] ?? 0,
        velocity: velocityAt(entry, wish.seed, slot),
      };
    }),
  };
}

/** The grader's name for a clean note: a chromatic one that may not belong to the next palette yet is an approach. */
function noteName(entries: readonly LineEntry[], midis: readonly number[], slot: number): string {
  const playedAt = (index: number): PlayedNote | null => {
    const [entry, midi] = [entries[index], midis[index]];
    return entry === undefined || midi === undefined ? null : { midi, chord: entry.chord };
  };
  const [note, next] = [playedAt(slot), playedAt(slot + 1)];
  if (note === null) return '';
  const upcoming = entries[slot]?.upcoming ?? null;
  const isAnticipation = upcoming !== null && hasPc(upcoming.mask, note.midi % 12);
  const leads = next !== null && Math.abs(next.midi - note.midi) === 1;
  return leads && isChromatic(note) && !isAnticipation
    ? approachName(note, next, playedAt(slot + 2))
    : note.chord.spell(note.midi);
}

function notePlace({ place, chorus, chord }: LineEntry): NotePlace {
  const { bar, beat, sub } = place;
  const palette = chord.palette === null ? null : chord.paletteText;
  return { chorus, bar, beat, sub, chord: chord.symbolText, palette };
}

function closingNote({ next }: Course, onsetBeats: number, midi: number): ClosingNote | null {
  if (next === undefined) return null;
  const [name, chord] = [next.spell(midi), next.symbolText];
  const velocity = VELOCITY + BEAT_ACCENT;
  return { midi, name, chord, onsetBeats, durationBeats: CLOSING_BEATS, velocity };
}

function velocityAt(entry: LineEntry, seed: number, slot: number): number {
  const accent = entry.place.sub === 0 ? BEAT_ACCENT : 0;
  const chance = (chanceAt(seed, STREAM.velocity, slot) - 0.5) * 2 * VELOCITY_SPREAD;
  return Math.round(VELOCITY + accent + chance);
}

/** The place of an entry as a problem tells it. */
export function blockedPlace(entry: LineEntry | undefined): BlockedPlace {
  const { bar = 1, beat = 1, sub = 0 } = entry?.place ?? {};
  return {
    chorus: entry?.chorus ?? 1,
    bar,
    beat,
    sub,
    chord: entry?.chord.symbolText ?? '',
    palette: entry?.chord.paletteText ?? '',
  };
}
