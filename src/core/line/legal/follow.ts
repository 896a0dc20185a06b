/** Which notes may follow which: the grader's rules as steps from one state of the line to the next. */

import type { IntervalVerdict, PaletteView } from '../../grading/index.ts';
import { allowsMove, CLAIM, CLAIMS } from './claims.ts';
import type { LineEntry } from './entries.ts';
import { createIntervalTable } from './interval-table.ts';
import { takeLineUp, takenBefore } from './line-up.ts';
import { proofStep } from './proof.ts';
import type { LegalRules } from './rules.ts';
import { claimOf, midiOf, packState, proofOf, takenOf } from './state.ts';
import { type ToneOption, toneOptions } from './tone-options.ts';

/** Told of each state that may follow, and what it adds to the charge for changes. */
export type FollowListener = (state: number, charge: number) => void;

export interface Follower {
  /** The states of the first note. */
  start(entry: LineEntry, emit: FollowListener): void;
  /** The states of a note after a state of the note before. */
  follow(entry: LineEntry, from: number, emit: FollowListener): void;
}

/** Makes the rules into steps. */
export function createFollower(rules: LegalRules): Follower {
  const { lowestMidi, highestMidi } = rules.register;
  const intervals = createIntervalTable(rules);
  const optionsAt = rememberOptions(rules);

  /** The line-up allowance after a note, or null where an interval or an outside note is not excused. */
  function takenAfter(
    entry: LineEntry,
    taken: number,
    verdict: IntervalVerdict,
    option: ToneOption,
  ): number | null {
    if (verdict === 'open') return option.excuse === 'lineUp' ? takeLineUp(entry, taken) : taken;
    if (verdict !== 'third' || rules.lineUp === 'flag') return null;
    // The interval takes the allowance; an outside note would need another.
    return option.excuse === 'lineUp' ? null : takeLineUp(entry, taken);
  }

  function verdictInto(
    entry: LineEntry,
    fromMidi: number,
    midi: number,
    option: ToneOption,
  ): IntervalVerdict {
    const palette = option.excuse === 'anticipation' ? entry.upcoming : entry.palette;
    return intervals(fromMidi, midi, palette);
  }

  return {
    start(entry, emit) {
      const { startMidi, afterMidi } = rules;
      for (let midi = lowestMidi; midi <= highestMidi; midi++) {
        if (startMidi !== null && midi !== startMidi) continue;
        const direction = afterMidi === null ? 0 : Math.sign(midi - afterMidi);
        for (const option of optionsAt(entry, midi % 12, direction)) {
          const verdict = afterMidi === null ? 'open' : verdictInto(entry, afterMidi, midi, option);
          const taken = takenAfter(entry, 0, verdict, option);
          if (taken === null) continue;
          const { proof, charge } = proofStep(entry, 0, midi % 12, rules);
          emit(packState(midi, option.claim, proof, taken), charge);
        }
      }
    },
    follow(entry, from, emit) {
      const fromMidi = midiOf(from);
      const claim = CLAIMS[claimOf(from)];
      if (claim === undefined) return;
      const lowest = claim.semitone ? Math.max(lowestMidi, fromMidi - 1) : lowestMidi;
      const highest = claim.semitone ? Math.min(highestMidi, fromMidi + 1) : highestMidi;
      const takenThere = takenBefore(entry, takenOf(from));
      const proofThere = proofOf(from);
      for (let midi = lowest; midi <= highest; midi++) {
        if (!allowsMove(claim, midi - fromMidi)) continue;
        const pc = midi % 12;
        for (const option of optionsAt(entry, pc, Math.sign(midi - fromMidi))) {
          if (claim.inside && !option.inside) continue;
          const next = claim.next === null ? option.claim : passingClaim(option, claim.next);
          if (next === null) continue;
          const verdict = verdictInto(entry, fromMidi, midi, option);
          const taken = takenAfter(entry, takenThere, verdict, option);
          if (taken === null) continue;
          const { proof, charge } = proofStep(entry, proofThere, pc, rules);
          emit(packState(midi, next, proof, taken), charge);
        }
      }
    },
  };
}

/** The claim of the second of two outside notes, which must go on the way the first one went; null if it cannot. */
function passingClaim(option: ToneOption, wanted: number): number | null {
  if (option.inside || option.claim === CLAIM.passUp || option.claim === CLAIM.passDown)
    return null;
  const claim = CLAIMS[option.claim];
  const semitone = wanted === CLAIM.resolveUp ? 1 : -1;
  return claim !== undefined && allowsMove(claim, semitone) ? wanted : null;
}

const DIRECTIONS = 3;

/** Readings depend on an entry by few of its traits, so they are made once for each. */
function rememberOptions(
  rules: LegalRules,
): (entry: LineEntry, pc: number, direction: number) => readonly ToneOption[] {
  const known = new Map<PaletteView | null, Map<number, readonly ToneOption[]>>();
  return (entry, pc, direction) => {
    if (entry.upcoming !== null) return toneOptions(entry, pc, direction, rules);
    const byChange = entry.beforeChange || entry.sinceChange === 0 || entry.sinceChange === 1;
    const traits = (entry.chordGoesOn ? 1 : 0) + (entry.isLast ? 2 : 0) + (byChange ? 4 : 0);
    const cell = (traits * DIRECTIONS + direction + 1) * 12 + pc;
    let options = known.get(entry.palette);
    if (options === undefined) {
      options = new Map();
      known.set(entry.palette, options);
    }
    const found = options.get(cell) ?? toneOptions(entry, pc, direction, rules);
    options.set(cell, found);
    return found;
  };
}
