/** A line that was heard and is to be played back: how much of it came, note for note. */

import { beatsPerBar, type Form } from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import type { Report, ReportSlot } from '../grading/index.ts';
import type { WrittenLine } from '../line/written-line.ts';
import type { SlotsPerBeat } from '../words.ts';
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

/** How far from its place a note still counts as that of the line, at `free`: a sixteenth triplet. Own rule. */
const WITHIN = 2;

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
  const within = report.level === 'free' ? WITHIN : 0;
  const taken = new Set<ReportSlot>();
  const notes = Array.from({ length: choruses }, (_, pass) => pass).flatMap((pass) =>
    model.flatMap((expected): PlayedBackNote[] => {
      const at = pass * starts.length + expected.at;
      if (at > last) return [];
      const near = played
        .filter(({ slot, at: own }) => Math.abs(own - at) <= within && !taken.has(slot))
        .reduce<(typeof played)[number] | null>(
          (best, one) =>
            best === null || Math.abs(one.at - at) < Math.abs(best.at - at) ? one : best,
          null,
        );
      if (near !== null) taken.add(near.slot);
      const note = near?.slot.note ?? null;
      return [
        {
          chorus: pass + 1,
          ...starts.placeAt(expected.at),
          expected: expected.name,
          played: note?.name ?? null,
          verdict: note === null ? 'missing' : verdictOf(note.midi, expected.midi),
        },
      ];
    }),
  );
  return { notes, added: played.length - taken.size };
}

function verdictOf(midi: number, expected: number): BackVerdict {
  if (midi === expected) return 'same';
  return (midi - expected) % 12 === 0 ? 'octave' : 'other';
}

interface BarStarts {
  /** Twelfths of a chorus. */
  readonly length: number;
  /** Twelfths of a chorus before a bar, by its number. */
  readonly before: ReadonlyMap<number, number>;
  placeAt(twelfth: number): { readonly bar: number; readonly beat: number };
}

function barStarts(form: Form): BarStarts {
  const before = new Map<number, number>();
  let length = 0;
  for (const { bar, meter } of form.bars) {
    before.set(bar, length);
    length += beatsPerBar(meter) * TWELFTHS;
  }
  return {
    length,
    before,
    placeAt(twelfth) {
      const [bar, start] = [...before].findLast(([, from]) => from <= twelfth) ?? [1, 0];
      return { bar, beat: Math.floor((twelfth - start) / TWELFTHS) + 1 };
    },
  };
}

/** Where a free note lies, in twelfths from the first downbeat. */
function twelfthOf({ chorus, bar, beat, sub }: ReportSlot, { length, before }: BarStarts): number {
  return (chorus - 1) * length + (before.get(bar) ?? 0) + (beat - 1) * TWELFTHS + sub;
}
