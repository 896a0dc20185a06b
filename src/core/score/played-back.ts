/** A line that was heard and is to be played back: how much of it came, note for note. */

import type { Form } from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import type { Report, ReportSlot } from '../grading/index.ts';
import type { WrittenLine } from '../line/written-line.ts';
import type { SlotsPerBeat } from '../words.ts';
import { type BarStarts, barStarts } from './bar-starts.ts';
import { slotPlaces, soundsOfLine } from './sounds.ts';

/** One note of the line that was heard. */
export interface ModelNote {
  /** Twelfths of a beat from the first downbeat of the chorus; whole. */
  readonly at: number;
  readonly midi: number;
  /** Spelled over its chord, with its octave: `Eb4`. */
  readonly name: string;
}

/** A line of one chorus as what is to be played back. */
export function modelOf(form: Form, line: WrittenLine): readonly ModelNote[] {
  return soundsOfLine(form, line).flatMap(({ from, name }, index) => {
    const midi = line.notes[index]?.midi;
    return midi === undefined || name === null ? [] : [{ at: from, midi, name }];
  });
}

/** How one note of the line was played back. */
export type BackVerdict = 'same' | 'octave' | 'other' | 'missing';

export interface PlayedBackNote {
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  readonly expected: string;
  /** The name of what was played, or null. */
  readonly played: string | null;
  readonly verdict: BackVerdict;
}

export interface PlayedBack {
  /** Every note of the line up to the last one played, in order. */
  readonly notes: readonly PlayedBackNote[];
  /** Notes that were played where the line has none. */
  readonly added: number;
}

/** How far from its place a note still counts as that of the line, at `free`: a sixteenth triplet, nearest first. Own rule. */
const NEAR = [0, -1, 1, -2, 2];
const EXACT = [0];

/**
 * Sets a take against the line it was to play back, chorus by chorus. In: the take's form and report, and the line of
 * one chorus in order of time; the slots per beat as they were asked for, null for eighths in every meter. At `free` a note stands for the nearest one of the line within a sixth of a beat;
 * elsewhere slot for slot. What comes after the last note played is not counted: it was not reached.
 */
export function comparePlayedBack(
  form: Form,
  report: Report,
  model: readonly ModelNote[],
  slotsPerBeat: SlotsPerBeat | null,
): PlayedBack {
  const starts = barStarts(form);
  const choruses = report.slots.at(-1)?.chorus ?? 0;
  const places = report.level === 'free' ? null : slotPlaces(form, slotsPerBeat, choruses);
  const played = report.slots
    .filter(({ note }) => note !== null)
    .map((slot) => ({ slot, at: places?.[slot.index]?.from ?? twelfthOf(slot, starts) }));
  const last = played.at(-1)?.at ?? -1;
  /** Slots nothing in the line was found for yet, by their place. */
  const left = Map.groupBy(played, ({ at }) => at);
  const take = (at: number): ReportSlot | null => {
    for (const off of report.level === 'free' ? NEAR : EXACT) {
      const found = left.get(at + off)?.shift();
      if (found !== undefined) return found.slot;
    }
    return null;
  };
  const notes = Array.from({ length: choruses }, (_, pass) => pass).flatMap((pass) =>
    model.flatMap((expected): PlayedBackNote[] => {
      const at = pass * starts.beats * TWELFTHS + expected.at;
      if (at > last) return [];
      const note = take(at)?.note ?? null;
      return [
        {
          chorus: pass + 1,
          ...placeAt(starts, expected.at),
          expected: expected.name,
          played: note?.name ?? null,
          verdict: note === null ? 'missing' : verdictOf(note.midi, expected.midi),
        },
      ];
    }),
  );
  return { notes, added: [...left.values()].flat().length };
}

function verdictOf(midi: number, expected: number): BackVerdict {
  if (midi === expected) return 'same';
  return (midi - expected) % 12 === 0 ? 'octave' : 'other';
}

function placeAt({ bars }: BarStarts, twelfth: number): Pick<PlayedBackNote, 'bar' | 'beat'> {
  const beat = Math.floor(twelfth / TWELFTHS);
  const [bar, start] = [...bars].findLast(([, one]) => one.beat <= beat) ?? [1, { beat: 0 }];
  return { bar, beat: beat - start.beat + 1 };
}

/** Where a free note lies, in twelfths from the first downbeat. */
function twelfthOf({ chorus, bar, beat, sub }: ReportSlot, { bars, beats }: BarStarts): number {
  const before = (chorus - 1) * beats + (bars.get(bar)?.beat ?? 0) + beat - 1;
  return before * TWELFTHS + sub;
}
