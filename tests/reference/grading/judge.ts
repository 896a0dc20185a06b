/** "Palette" and "Intervals": the verdict on each entry, the whole line being known. */

import type { CompleteSettings } from '../../../src/core/grading/settings.ts';
import type { Palette } from '../../../src/core/theory/palette.ts';
import { type Fault, MARKS, type Mark } from '../../../src/core/words.ts';
import type { Key } from './onsets.ts';
import type { Entry, Performance } from './places.ts';

export interface Line {
  readonly played: Performance;
  readonly entries: readonly Entry[];
  readonly notes: readonly (Key | null)[];
  /** Entries since the last change of palette, from 0, by entry; null before the first. */
  readonly sinceChange: readonly (number | null)[];
  /** Whether an entry is the last slot before a change. */
  readonly beforeChange: readonly boolean[];
}

/** Rising and falling pitch classes of a palette. */
function directions(palette: Palette): {
  readonly up: readonly number[];
  readonly down: readonly number[];
} {
  return { up: palette.pcs, down: palette.falling?.pcs ?? palette.pcs };
}

export function pcsOf(palette: Palette): ReadonlySet<number> {
  const { up, down } = directions(palette);
  return new Set([...up, ...down]);
}

/** The pitch classes of one palette that are not in another. */
export function without(one: ReadonlySet<number>, other: ReadonlySet<number>): ReadonlySet<number> {
  return new Set([...one].filter((pc) => !other.has(pc)));
}

/** "The palette's pitch-class set differs." */
export function isSameSet(one: Palette, other: Palette): boolean {
  return without(pcsOf(one), pcsOf(other)).size + without(pcsOf(other), pcsOf(one)).size === 0;
}

export function paletteOf({ chords }: Performance, chord: number): Palette | null {
  return chords[chord]?.chord.chosen?.palette ?? null;
}

/** A change lies before a chord when both sides have palettes, and different ones. */
export function isChange(played: Performance, chord: number): boolean {
  if (chord === 0) return false;
  const from = paletteOf(played, chord - 1);
  const to = paletteOf(played, chord);
  return from !== null && to !== null && !isSameSet(from, to);
}

function midiAt({ notes }: Line, index: number): number | null {
  return notes[index]?.midi ?? null;
}

function paletteAt({ played, entries }: Line, index: number): Palette | null {
  return paletteOf(played, entries[index]?.chord ?? -1);
}

/**
 * "Two-way palettes: at a degree whose form differs rising and falling, the direction is that of the next interval of the line
 * within the chord, else of the previous one." A note that has neither, or repeats, passes in either form: left open.
 */
function isInside(line: Line, index: number): boolean {
  const palette = paletteAt(line, index);
  const midi = midiAt(line, index);
  // `N.C.`: "nothing there is outside."
  if (palette === null || midi === null) return true;
  const { up, down } = directions(palette);
  const pc = midi % 12;
  if (up.includes(pc) === down.includes(pc)) return up.includes(pc);
  const next = midiAt(line, index + 1);
  const isWithin = line.entries[index + 1]?.chord === line.entries[index]?.chord;
  const before = midiAt(line, index - 1);
  let direction = before === null ? 0 : midi - before;
  if (next !== null && isWithin && next !== midi) direction = next - midi;
  if (direction === 0) return true;
  return (direction > 0 ? up : down).includes(pc);
}

function semitoneAhead(line: Line, index: number): number {
  const midi = midiAt(line, index);
  const next = midiAt(line, index + 1);
  return midi !== null && next !== null && Math.abs(next - midi) === 1 ? next - midi : 0;
}

/** "An outside note whose next note is one semitone away and inside its own palette." */
function resolves(line: Line, index: number): boolean {
  return semitoneAhead(line, index) !== 0 && isInside(line, index + 1);
}

/** "Two outside notes moving by semitone in one direction into a palette note are approaches too." */
function isApproach(line: Line, index: number): boolean {
  const step = semitoneAhead(line, index);
  const isFirstOfTwo =
    step !== 0 && semitoneAhead(line, index + 1) === step && isInside(line, index + 2);
  return resolves(line, index) || isFirstOfTwo;
}

/** "Measured in palette steps of the arriving note's palette when both notes lie in it", counted key by key. */
function stepsBetween(palette: Palette, from: number, to: number): number | null {
  const { up, down } = directions(palette);
  const pcs = new Set(to < from ? down : up);
  if (!pcs.has(from % 12) || !pcs.has(to % 12)) return null;
  let steps = 0;
  for (let midi = Math.min(from, to) + 1; midi <= Math.max(from, to); midi++) {
    if (pcs.has(midi % 12)) steps++;
  }
  return steps;
}

/** "1 palette step, or 1–2 semitones"; "1–2 palette steps, or 1–4 semitones"; "everything". */
function isWithin(
  palette: Palette | null,
  from: number,
  to: number,
  steps: number,
  semitones: number,
): boolean {
  const counted = palette === null ? null : stepsBetween(palette, from, to);
  return Math.abs(to - from) <= semitones || (counted !== null && counted <= steps);
}

export interface Verdict {
  readonly faults: readonly Fault[];
  readonly marks: readonly Mark[];
}

export function judge(
  line: Line,
  settings: Pick<CompleteSettings, 'level' | 'approach' | 'repeats' | 'lineUp' | 'anticipation'>,
): readonly Verdict[] {
  const allowancesTaken = new Set<number>();

  /** "Once per change, the interval into either of the first two slots of the new palette, or into the last slot of the old one." */
  function takeAllowance(index: number): boolean {
    const since = line.sinceChange[index] ?? null;
    const changes = [
      ...(since === 0 || since === 1 ? [index - since] : []),
      ...(line.beforeChange[index] ? [index + 1] : []),
    ];
    const free = changes.find((change) => !allowancesTaken.has(change));
    if (free !== undefined) allowancesTaken.add(free);
    return free !== undefined;
  }

  return line.entries.map((entry, index): Verdict => {
    const note = line.notes[index] ?? null;
    if (note === null) return { faults: ['gap'], marks: [] };
    const faults = new Set<Fault>();
    const marks = new Set<Mark>();
    if (entry.toleranceMs !== null) {
      const offMs = note.onsetMs - entry.nominalMs;
      if (Math.abs(offMs) > entry.toleranceMs + 1e-6) faults.add(offMs < 0 ? 'early' : 'late');
    }

    let palette = paletteAt(line, index);
    let isOutside = !isInside(line, index);
    // Anticipation: "a note on the last slot before a change may belong to the next palette."
    if (isOutside && settings.anticipation === 'allow' && line.beforeChange[index]) {
      const ahead = line.played.chords.findIndex(
        (_, chord) => chord > entry.chord && isChange(line.played, chord),
      );
      const next = paletteOf(line.played, ahead);
      if (next !== null && pcsOf(next).has(note.midi % 12)) {
        palette = next;
        isOutside = false;
        marks.add('anticipation');
      }
    }
    if (isOutside && settings.approach === 'allow' && isApproach(line, index)) {
      isOutside = false;
      marks.add('approach');
    }

    // "The interval from the previous slot's note is not open at this level (not judged after a gap)."
    const before = midiAt(line, index - 1);
    let isClosed = false;
    let isThird = false;
    if (before === note.midi) isClosed = settings.repeats === 'flag';
    else if (before !== null && (settings.level === 'steps' || settings.level === 'thirds')) {
      const third = isWithin(palette, before, note.midi, 2, 4);
      isClosed = settings.level === 'steps' ? !isWithin(palette, before, note.midi, 1, 2) : !third;
      isThird = isClosed && third;
    }

    // "The first that needs it takes it. One allowance excuses one thing: of a note that is a third away and outside as well, the
    // interval is excused and `outside` stays."
    if (settings.lineUp === 'allow') {
      if (isThird) {
        if (takeAllowance(index)) {
          isClosed = false;
          marks.add('lineUp');
        }
      } else if (isOutside && resolves(line, index) && takeAllowance(index)) {
        isOutside = false;
        marks.add('lineUp');
      }
    }
    if (isOutside) faults.add('outside');
    if (isClosed) faults.add('interval');
    // "`marks` are `approach`, `lineUp`, `anticipation`", in this order.
    return { faults: [...faults], marks: MARKS.filter((mark) => marks.has(mark)) };
  });
}
