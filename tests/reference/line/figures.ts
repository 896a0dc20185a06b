/** What lines are made of, counted note by note: intervals, runs in one direction, chord tones on and off the beat. */

import { type Form, isCompound } from '../../../src/core/chart/index.ts';
import type { WrittenLine } from '../../../src/core/line/index.ts';
import { chordPcs } from '../../../src/core/theory/index.ts';

/** Shares from 0 to 1; runs in moves. */
export interface LineFigures {
  readonly notes: number;
  readonly repeats: number;
  readonly stepsUp: number;
  readonly stepsDown: number;
  readonly halfSteps: number;
  readonly wholeSteps: number;
  readonly thirds: number;
  readonly wideUp: number;
  readonly wideDown: number;
  /** Moves in one direction until the line turns; a repeat belongs to the run it stands in. */
  readonly meanRun: number;
  readonly runsOfOne: number;
  readonly runsOfFiveOrMore: number;
  readonly chordTonesOnBeats: number;
  readonly chordTonesOffBeats: number;
}

interface Counted {
  readonly form: Form;
  readonly line: WrittenLine;
}

/** The figures over several lines of eighths, each one chorus over its form. A step is 1–2 semitones, a third 3–4. */
export function lineFigures(lines: readonly Counted[]): LineFigures {
  const moves = lines.flatMap(({ line }) => movesOf(line));
  const runs = lines.flatMap(({ line }) => runsOf(movesOf(line)));
  const tones = lines.flatMap(chordTones);
  const share = (holds: (move: number) => boolean): number =>
    moves.filter(holds).length / moves.length;
  const runShare = (holds: (run: number) => boolean): number =>
    runs.filter(holds).length / runs.length;
  const inChord = (onBeat: boolean): number => {
    const there = tones.filter((tone) => tone.onBeat === onBeat);
    return there.filter(({ isChordTone }) => isChordTone).length / there.length;
  };
  return {
    notes: tones.length,
    repeats: share((move) => move === 0),
    stepsUp: share((move) => move === 1 || move === 2),
    stepsDown: share((move) => move === -1 || move === -2),
    halfSteps: share((move) => Math.abs(move) === 1),
    wholeSteps: share((move) => Math.abs(move) === 2),
    thirds: share((move) => Math.abs(move) === 3 || Math.abs(move) === 4),
    wideUp: share((move) => move > 4),
    wideDown: share((move) => move < -4),
    meanRun: runs.reduce((sum, run) => sum + run, 0) / runs.length,
    runsOfOne: runShare((run) => run === 1),
    runsOfFiveOrMore: runShare((run) => run >= 5),
    chordTonesOnBeats: inChord(true),
    chordTonesOffBeats: inChord(false),
  };
}

function movesOf({ notes }: WrittenLine): readonly number[] {
  return notes.slice(1).map(({ midi }, index) => midi - (notes[index]?.midi ?? midi));
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

function chordTones({ form, line }: Counted) {
  const slots = form.bars.flatMap(({ meter, chords }) =>
    chords.flatMap(({ symbol, beats }) => {
      const perBeat = isCompound(meter) ? 3 : 2;
      const pcs = symbol === null ? [] : chordPcs(symbol);
      return Array.from({ length: beats * perBeat }, (_, slot) => ({
        pcs,
        onBeat: slot % perBeat === 0,
      }));
    }),
  );
  return slots.flatMap(({ pcs, onBeat }, slot) => {
    const midi = line.notes[slot]?.midi;
    return midi === undefined ? [] : [{ onBeat, isChordTone: pcs.includes(midi % 12) }];
  });
}
