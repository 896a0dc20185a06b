/**
 * What lines are made of, counted note by note: intervals, runs in one direction, contours, repetition, chord tones, arrivals.
 * For lines in eighths, two to a beat, over bars of four beats; other bars count for intervals and runs alone.
 */

import { beatsPerBar, type Form } from '../../../src/core/chart/index.ts';
import type { WrittenLine } from '../../../src/core/line/index.ts';
import { guideMask } from '../../../src/core/line/taste/guide-tones.ts';
import { SOLO_INTERVALS } from '../../../src/core/line/taste/solo-intervals.data.ts';
import { chordPcs } from '../../../src/core/theory/index.ts';

/** Shares from 0 to 1; runs in moves, ranges in semitones. A step is 1–2 semitones, a third 3–4. */
export interface LineFigures {
  readonly notes: number;
  /** Jensen–Shannon divergence (base 2) of the intervals by signed semitones from those of solos. */
  readonly divergence: number;
  readonly repeats: number;
  readonly stepsUp: number;
  readonly stepsDown: number;
  readonly halfSteps: number;
  readonly wholeSteps: number;
  readonly thirds: number;
  readonly wideUp: number;
  readonly wideDown: number;
  /** Of wide moves, those followed by a step or third the other way. */
  readonly recovered: number;
  /**
   * Moves that turn, of all moves, and moves in one direction until the line turns; a repeat belongs to the run it stands in.
   * Counted in groups of twelve notes, as long as the solos' runs of eighths are on average: their ends cut runs short.
   */
  readonly turns: number;
  readonly meanRun: number;
  readonly runsOfOne: number;
  readonly runsOfFiveOrMore: number;
  /** Entropy in bits of the contours of bars, each seven signs. */
  readonly contourBits: number;
  /** Bars equal to an earlier bar of their chorus, and to the bar before. */
  readonly repeatedBars: number;
  readonly barRepeatedNext: number;
  /** Half bars, four notes, equal to the half bar before, and equal to it at another height. */
  readonly cellRepeated: number;
  readonly cellTransposed: number;
  /** Mean range of 16 notes in a row. */
  readonly rangeOf16: number;
  /** Of the notes on beats 1 and 3, on beats 2 and 4, off the beats. */
  readonly chordTonesOnOddBeats: number;
  readonly chordTonesOnEvenBeats: number;
  readonly chordTonesOffBeats: number;
  /** Notes outside their palette. */
  readonly outside: number;
  /** Of beats: a chord tone on it, its two notes before on either side of it, no more than two semitones away. */
  readonly enclosures: number;
  /** Of the first notes of chords, by the move into them and by what they are. */
  readonly arriveByHalfStep: number;
  readonly arriveByWholeStep: number;
  readonly arriveByThird: number;
  readonly arriveByWide: number;
  readonly arriveOnChordTone: number;
  readonly arriveOnGuideTone: number;
}

export interface Counted {
  readonly form: Form;
  readonly line: WrittenLine;
}

/** The figures over several lines. */
export function lineFigures(lines: readonly Counted[]): LineFigures {
  const moves = lines.flatMap(({ line }) => movesOf(line));
  const phrases = lines.flatMap(({ line }) => phrasesOf(line));
  const runs = phrases.map(runsOf);
  const tones = lines.flatMap(tonesOf);
  const bars = lines.map(barsOf);
  const cells = lines.flatMap(cellPairs);
  const arrivals = tones.filter(({ beginsChord, move }) => beginsChord && move !== null);
  const beats = tones.filter(({ onBeat }) => onBeat);
  const size = ({ move }: Tone): number => Math.abs(move ?? 0);
  const toneShare = (group: readonly Tone[]) => share(group, ({ isChordTone }) => isChordTone);
  return {
    notes: tones.length,
    divergence: soloDivergence(moves),
    repeats: share(moves, (move) => move === 0),
    stepsUp: share(moves, (move) => move === 1 || move === 2),
    stepsDown: share(moves, (move) => move === -1 || move === -2),
    halfSteps: share(moves, (move) => Math.abs(move) === 1),
    wholeSteps: share(moves, (move) => Math.abs(move) === 2),
    thirds: share(moves, (move) => Math.abs(move) === 3 || Math.abs(move) === 4),
    wideUp: share(moves, (move) => move > 4),
    wideDown: share(moves, (move) => move < -4),
    recovered: recoveredShare(lines.map(({ line }) => movesOf(line))),
    turns: runs.reduce((sum, own) => sum + own.length - 1, 0) / Math.max(1, phrases.flat().length),
    meanRun: mean(runs.flat()),
    runsOfOne: share(runs.flat(), (run) => run === 1),
    runsOfFiveOrMore: share(runs.flat(), (run) => run >= 5),
    contourBits: entropyBits(bars.flat().map(({ contour }) => contour)),
    repeatedBars: share(
      bars.flatMap((own) =>
        own.map(({ keys }, index) => own.slice(0, index).some((bar) => bar.keys === keys)),
      ),
      Boolean,
    ),
    barRepeatedNext: share(
      bars.flatMap((own) => own.slice(1).map(({ keys }, index) => own[index]?.keys === keys)),
      Boolean,
    ),
    cellRepeated: share(cells, ([one, other]) => one.join() === other.join()),
    cellTransposed: share(
      cells,
      ([one, other]) => one[0] !== other[0] && movesIn(one).join() === movesIn(other).join(),
    ),
    rangeOf16: mean(lines.flatMap(({ line }) => rangesOf16(line))),
    chordTonesOnOddBeats: toneShare(beats.filter(({ beat }) => beat % 2 === 1)),
    chordTonesOnEvenBeats: toneShare(beats.filter(({ beat }) => beat % 2 === 0)),
    chordTonesOffBeats: toneShare(tones.filter(({ onBeat }) => !onBeat)),
    outside: share(tones, ({ isOutside }) => isOutside),
    enclosures: share(beats, ({ isEnclosed }) => isEnclosed),
    arriveByHalfStep: share(arrivals, (tone) => size(tone) === 1),
    arriveByWholeStep: share(arrivals, (tone) => size(tone) === 2),
    arriveByThird: share(arrivals, (tone) => size(tone) === 3 || size(tone) === 4),
    arriveByWide: share(arrivals, (tone) => size(tone) > 4),
    arriveOnChordTone: toneShare(arrivals),
    arriveOnGuideTone: share(arrivals, ({ isGuideTone }) => isGuideTone),
  };
}

function share<Item>(items: readonly Item[], holds: (item: Item) => boolean): number {
  return items.length === 0 ? 0 : items.filter(holds).length / items.length;
}

function mean(values: readonly number[]): number {
  return values.reduce((sum, value) => sum + value, 0) / Math.max(1, values.length);
}

function movesIn(midis: readonly number[]): readonly number[] {
  return midis.slice(1).map((midi, index) => midi - (midis[index] ?? midi));
}

function movesOf({ notes }: WrittenLine): readonly number[] {
  return movesIn(notes.map(({ midi }) => midi));
}

const NOTES_OF_PHRASE = 12;

function phrasesOf({ notes }: WrittenLine): readonly (readonly number[])[] {
  const midis = notes.map(({ midi }) => midi);
  const groups = Math.ceil(midis.length / NOTES_OF_PHRASE);
  return Array.from({ length: groups }, (_, group) =>
    movesIn(midis.slice(group * NOTES_OF_PHRASE, (group + 1) * NOTES_OF_PHRASE)),
  ).filter((moves) => moves.length > 0);
}

function runsOf(moves: readonly number[]): readonly number[] {
  const runs: number[] = [];
  let direction = 0;
  for (const move of moves) {
    const turns = Math.sign(move) === -direction || direction === 0;
    if (move !== 0 && turns) runs.push(1);
    else if (runs.length > 0) runs.push((runs.pop() ?? 0) + 1);
    direction = Math.sign(move) || direction;
  }
  return runs;
}

function recoveredShare(lines: readonly (readonly number[])[]): number {
  const after = lines.flatMap((moves) =>
    moves.flatMap((move, index) => {
      const next = moves[index + 1];
      return Math.abs(move) <= 4 || next === undefined ? [] : [{ move, next }];
    }),
  );
  return share(
    after,
    ({ move, next }) => Math.sign(next) === -Math.sign(move) && Math.abs(next) <= 4,
  );
}

/** Of moves in semitones; those of more than 13 count as 13. */
export function soloDivergence(moves: readonly number[]): number {
  const count = new Map<number, number>();
  for (const move of moves) {
    const kept = Math.max(-13, Math.min(13, move));
    count.set(kept, (count.get(kept) ?? 0) + 1);
  }
  const total = SOLO_INTERVALS.reduce((sum, [, percent]) => sum + percent, 0);
  return jensenShannon(
    SOLO_INTERVALS.map(([semitones]) => (count.get(semitones) ?? 0) / moves.length),
    SOLO_INTERVALS.map(([, percent]) => percent / total),
  );
}

/** In bits, 0 to 1. Source: J. Lin, IEEE Transactions on Information Theory 37, 1991, 145–151; from memory. */
export function jensenShannon(one: readonly number[], other: readonly number[]): number {
  const toMiddle = (part: number, apart: number): number =>
    part === 0 ? 0 : (part / 2) * Math.log2(part / ((part + apart) / 2));
  return one.reduce((sum, part, index) => {
    const apart = other[index] ?? 0;
    return sum + toMiddle(part, apart) + toMiddle(apart, part);
  }, 0);
}

/** Shannon's entropy of how often each word comes. */
function entropyBits(words: readonly string[]): number {
  const count = new Map<string, number>();
  for (const word of words) count.set(word, (count.get(word) ?? 0) + 1);
  return [...count.values()].reduce((sum, times) => {
    const part = times / words.length;
    return sum - part * Math.log2(part);
  }, 0);
}

const NOTES_OF_BAR = 8;

/** Bars of eight notes: their keys, and the signs of their seven moves. */
function barsOf({ line }: Counted): readonly { readonly keys: string; readonly contour: string }[] {
  const groups = new Map<string, number[]>();
  for (const { place, midi } of line.notes) {
    const name = `${place.chorus} ${place.bar}`;
    const own = groups.get(name) ?? [];
    own.push(midi);
    groups.set(name, own);
  }
  return [...groups.values()]
    .filter((midis) => midis.length === NOTES_OF_BAR)
    .map((midis) => ({ keys: midis.join(), contour: movesIn(midis).map(Math.sign).join() }));
}

/** Each half bar of four notes with the one before it. */
function cellPairs({
  line,
}: Counted): readonly (readonly [readonly number[], readonly number[]])[] {
  const midis = line.notes.map(({ midi }) => midi);
  const half = NOTES_OF_BAR / 2;
  return Array.from({ length: Math.floor(midis.length / half) }, (_, cell) => {
    const at = cell * half;
    return [midis.slice(at - half, at), midis.slice(at, at + half)] as const;
  }).slice(1);
}

function rangesOf16({ notes }: WrittenLine): readonly number[] {
  const midis = notes.map(({ midi }) => midi);
  return Array.from({ length: Math.floor(midis.length / 16) }, (_, group) => {
    const own = midis.slice(group * 16, group * 16 + 16);
    return Math.max(...own) - Math.min(...own);
  });
}

interface Tone {
  readonly beat: number;
  readonly onBeat: boolean;
  readonly beginsChord: boolean;
  readonly isChordTone: boolean;
  readonly isGuideTone: boolean;
  readonly isOutside: boolean;
  readonly isEnclosed: boolean;
  /** Into it, in semitones; null for the first note. */
  readonly move: number | null;
}

/** Every note over a chord, in bars of four beats with two slots each. */
function tonesOf({ form, line }: Counted): readonly Tone[] {
  const slots = form.bars.flatMap(({ meter, chords }) =>
    chords.flatMap((chord) =>
      Array.from({ length: chord.beats * 2 }, (_, slot) => ({
        chord,
        isFour: beatsPerBar(meter) === 4,
        beginsChord: slot === 0,
      })),
    ),
  );
  return line.notes.flatMap(({ midi, place }, index): Tone[] => {
    const slot = slots[index % slots.length];
    const { symbol = null, chosen = null } = slot?.chord ?? {};
    if (slot === undefined || !slot.isFour || symbol === null) return [];
    const before = line.notes[index - 1]?.midi ?? null;
    const earlier = line.notes[index - 2]?.midi ?? null;
    const onBeat = place.sub === 0;
    const isChordTone = chordPcs(symbol).includes(midi % 12);
    const rising = chosen?.palette.pcs ?? [];
    const falling = chosen?.palette.falling?.pcs ?? [];
    return [
      {
        beat: place.beat,
        onBeat,
        beginsChord: slot.beginsChord,
        isChordTone,
        isGuideTone: ((guideMask(symbol) >> (midi % 12)) & 1) === 1,
        isOutside: chosen !== null && ![...rising, ...falling].includes(midi % 12),
        isEnclosed:
          onBeat &&
          isChordTone &&
          before !== null &&
          earlier !== null &&
          isAround(midi, earlier, before),
        move: before === null ? null : midi - before,
      },
    ];
  });
}

function isAround(midi: number, one: number, other: number): boolean {
  const sides = Math.sign(one - midi) * Math.sign(other - midi);
  return sides === -1 && Math.abs(one - midi) <= 2 && Math.abs(other - midi) <= 2;
}
