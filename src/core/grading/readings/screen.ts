/**
 * A cheap look at how the notes of a take would lie over other chords: pitch classes against bit sets, no grading. It decides
 * which readings are worth a grading, and never whether one is given.
 */

import { layCourse } from '../course.ts';
import { changeMasks } from '../graded-line.ts';
import { isNotOnTime } from './cleared.ts';
import type { Ground } from './ground.ts';

/** Notes looked at for one shift: a few choruses tell, and an hour must not cost more. */
const NOTES_SCREENED = 1024;
/** Of the faults, at least this share must seem to go for a grading to be worth it; half must go in truth. */
const WORTH_SHARE = 0.3;
const WORTH_LEAST = 4;

/** Two entries over the same chords save the same but for a note or two at the ends. */
const SAME_SAVES = 2;

const ANY_PC = 0xfff;
const NOTHING = -1;

/** A shift of the whole take, or of its end, and what seems to go by it. */
export interface Candidate {
  readonly value: number;
  readonly fromSlot: number | null;
  readonly saves: number;
}

export interface Screen {
  /** Shifts of the whole take worth a grading, best first; of those that save the same the smallest, then the later entry. */
  starts(): readonly Candidate[];
  /** Semitones that seem to save most. */
  key(): Candidate | null;
  /** The slip that seems to save most, from the earliest slot. */
  slip(): Candidate | null;
}

/** The first slot a slip may begin at. Source: `grading.md`. */
export const FIRST_SLIP_SLOT = 8;
const SLIPS = [1, -1, 2, -2] as const;
const MOST_START_SLOTS = 8;
const SEMITONES = [-5, -4, -3, -2, -1, 1, 2, 3, 4, 5, 6] as const;

/** Lays the notes of a graded take out for looking at. */
export function createScreen({ form, base, axis }: Ground): Screen {
  const { grid } = axis;
  const { slotsPerChorus } = grid;
  const course = layCourse(form);
  const { length: chordCount } = course.chords;
  const chordOfSlot = Int32Array.from(grid.slots, ({ chord }) => chord);
  const masks = course.chords.map(({ palette }) => palette?.mask ?? ANY_PC);
  const changes = course.chords.map((to, index) => {
    const from = course.chords[(index + chordCount - 1) % chordCount];
    if (to.boundary !== 'change' || !to.palette || !from?.palette) return null;
    return changeMasks(from.palette, to.palette);
  });

  const slots: number[] = [];
  const pcs: number[] = [];
  /** Slots of notes that came over an interval not open. */
  const leaps = new Set<number>();
  const gaps = new Set<number>();
  /** Faults and changes not on time, up to each note and without it. */
  const missesBefore: number[] = [];
  let misses = 0;
  const changeMisses = new Map<number, number>();
  for (const change of base.changes) {
    if (isNotOnTime(change))
      changeMisses.set(change.slot, (changeMisses.get(change.slot) ?? 0) + 1);
  }
  for (const { index, note, nominalMs, faults, judged } of base.slots) {
    const missesHere = faults.length + (changeMisses.get(index) ?? 0);
    if (faults.includes('gap')) gaps.add(index);
    if (note !== null && judged) {
      const slot = base.level === 'free' ? axis.slotBefore(nominalMs + 1e-6) : index;
      slots.push(slot);
      if (faults.includes('interval')) leaps.add(slot);
      pcs.push(note.midi % 12);
      missesBefore.push(misses);
    }
    misses += missesHere;
  }
  missesBefore.push(misses);
  const noteCount = slots.length;
  const filled = new Set(slots);

  /**
   * Notes outside and changes not on time over some notes, each read so many slots earlier and semitones lower; `tell` gets each
   * at the note where it shows. Stops counting beyond a limit.
   */
  function misfits(
    from: number,
    to: number,
    shift: number,
    semitones: number,
    limit: number,
    tell: ((note: number) => void) | null,
  ): number {
    let count = 0;
    let ordinal = NOTHING;
    let openAt = NOTHING;
    let [newMask, oldMask, isLate] = [0, 0, false];
    const miss = (note: number): void => {
      count++;
      tell?.(note);
    };
    for (let note = from; note < to && count <= limit; note++) {
      const slot = (slots[note] ?? 0) - shift;
      const chorus = Math.floor(slot / slotsPerChorus);
      const chord = chordOfSlot[slot - chorus * slotsPerChorus] ?? 0;
      const reached = chorus * chordCount + chord;
      const pc = 1 << (((pcs[note] ?? 0) - semitones + 12) % 12);
      if (ordinal === NOTHING) ordinal = reached;
      while (ordinal < reached) {
        ordinal++;
        const change = changes[ordinal % chordCount];
        if (!change) continue;
        if (openAt !== NOTHING) miss(openAt);
        [openAt, newMask, oldMask, isLate] = [note, change.newMask, change.oldMask, false];
      }
      if (openAt !== NOTHING) {
        if ((newMask & pc) !== 0) {
          if (isLate) miss(openAt);
          openAt = NOTHING;
        } else if ((oldMask & pc) !== 0) isLate = true;
      }
      if (((masks[chord] ?? ANY_PC) & pc) === 0) miss(note);
    }
    if (openAt !== NOTHING) miss(openAt);
    return count;
  }

  const stay = costs(0);
  const staySums = new Int32Array(noteCount + 1);
  for (const [note, cost] of stay.entries()) staySums[note + 1] = (staySums[note] ?? 0) + cost;

  function isWorth(saves: number, of: number): boolean {
    return saves >= WORTH_LEAST && saves >= WORTH_SHARE * of;
  }

  /** How many of the first notes lie before a slot. */
  function notesBefore(slot: number): number {
    let low = 0;
    let high = noteCount;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((slots[middle] ?? 0) < slot) low = middle + 1;
      else high = middle;
    }
    return low;
  }

  /** A whole take read so many slots earlier and semitones lower, or null when that is not worth a grading. */
  function whole(shift: number, semitones: number): number | null {
    const from = shift > 0 ? notesBefore(shift) : 0;
    const to = Math.min(noteCount, from + NOTES_SCREENED);
    const of = (missesBefore[to] ?? 0) - (missesBefore[from] ?? 0);
    if (of < WORTH_LEAST) return null;
    const before = (staySums[to] ?? 0) - (staySums[from] ?? 0);
    const limit = before - Math.max(WORTH_LEAST, WORTH_SHARE * of);
    const after = limit < 0 ? before : misfits(from, to, shift, semitones, limit, null);
    const saves = before - after;
    return isWorth(saves, of) ? saves : null;
  }

  function startValues(): readonly number[] {
    const sizes = new Set<number>();
    for (let slot = 1; slot <= MOST_START_SLOTS; slot++) sizes.add(slot);
    let bar = 0;
    grid.slots.forEach(({ barIndex }, slot) => {
      if (barIndex !== bar) sizes.add(slot);
      bar = barIndex;
    });
    return [...sizes].sort((a, b) => a - b).flatMap((size) => [size, -size]);
  }

  /** For each note what is missed there, read so many slots earlier. */
  function costs(shift: number): Int32Array {
    const at = new Int32Array(noteCount);
    misfits(0, noteCount, shift, 0, Number.POSITIVE_INFINITY, (note) => {
      at[note] = (at[note] ?? 0) + 1;
    });
    return at;
  }

  /**
   * Whether of two entries that lie a chorus apart, and so over the same chords, this is the likelier: the later one when nothing
   * was played before it, else the smaller.
   */
  function isLikelier(one: Candidate, all: readonly Candidate[]): boolean {
    const other = all.find(({ value }) => Math.abs(value - one.value) === slotsPerChorus);
    if (other === undefined || Math.abs(other.saves - one.saves) > SAME_SAVES) {
      return other === undefined || one.saves > other.saves;
    }
    const later = Math.max(one.value, other.value);
    if ((slots[0] ?? 0) >= later) return one.value === later;
    return (
      Math.abs(one.value) < Math.abs(other.value) || (one.value === -other.value && one.value > 0)
    );
  }

  /** The earliest of the slots from which on a slip saves most. */
  function slipBy(value: number): Candidate {
    const slipped = costs(value);
    let best: Candidate = { value, fromSlot: null, saves: 0 };
    let saves = 0;
    for (let note = noteCount - 1; note >= 0; note--) {
      const fromSlot = slots[note] ?? 0;
      if (fromSlot < FIRST_SLIP_SLOT) break;
      saves += (stay[note] ?? 0) - (slipped[note] ?? 0);
      const savesHere = saves + savedAtSeam(fromSlot, value);
      if (savesHere >= best.saves) best = { value, fromSlot, saves: savesHere };
    }
    return best;
  }

  /**
   * What goes where a slip begins, less what comes there. Ahead: slots of the line were left out, and nothing is known of the
   * interval over them. Behind: the slots before it are filled from both sides, and one note too many is an extra.
   */
  function savedAtSeam(fromSlot: number, value: number): number {
    if (value < 0) return leaps.has(fromSlot) ? 1 : 0;
    let saved = 0;
    for (let slot = fromSlot - value; slot < fromSlot; slot++) {
      if (filled.has(slot) && filled.has(slot + value)) saved--;
      else if (gaps.has(slot) || gaps.has(slot + value)) saved++;
    }
    return saved;
  }

  return {
    starts() {
      const candidates = startValues().flatMap((value): Candidate[] => {
        const saves = whole(value, 0);
        return saves === null ? [] : [{ value, fromSlot: null, saves }];
      });
      return candidates
        .filter((candidate) => isLikelier(candidate, candidates))
        .sort((one, other) => other.saves - one.saves);
    },
    key() {
      let best: Candidate | null = null;
      for (const value of SEMITONES) {
        const saves = whole(0, value);
        if (saves !== null && saves > (best?.saves ?? 0)) best = { value, fromSlot: null, saves };
      }
      return best;
    },
    slip() {
      const slips = SLIPS.map(slipBy).sort((one, other) => other.saves - one.saves);
      return slips.find(({ saves }) => isWorth(saves, misses)) ?? null;
    },
  };
}
