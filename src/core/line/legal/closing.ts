/** The closing note: on the downbeat after the last bar, a tone of the chord that comes next. Source: `grading.md`, "Closing note". */

import type { LaidChord } from '../../grading/course.ts';
import { hasPc } from '../../grading/index.ts';
import { CLAIM } from './claims.ts';
import type { LineEntry } from './entries.ts';
import type { Layer, LegalGraph } from './graph.ts';
import { createIntervalTable } from './interval-table.ts';
import type { LegalRules } from './rules.ts';
import { midiOf, PROOF, packState } from './state.ts';

/** The closing note as an entry after the last one: no slot, so nothing is asked of it but its place and chord. */
export function closingEntry(last: LineEntry, next: LaidChord, beatsIn: number): LineEntry {
  return {
    ...last,
    place: { ...last.place, bar: last.place.bar + 1, beat: 1, sub: 0 },
    beatsIn,
    ordinal: last.ordinal + 1,
    chord: { ...last.chord, ...next },
    palette: next.palette,
    chordGoesOn: false,
    change: null,
    opensChange: false,
    closesChange: false,
  };
}

/**
 * The graph with the closing note after its last layer. It is reached by an interval that the level opens, of the lines that can
 * reach it so; where none can, by any. Null where the next chord has no tone in the register, or there is none.
 */
export function withClosing(
  { layers, startCharges }: LegalGraph,
  { chord, palette }: LineEntry,
  rules: LegalRules,
): LegalGraph | null {
  const { lowestMidi, highestMidi } = rules.register;
  const keys = Array.from(
    { length: highestMidi - lowestMidi + 1 },
    (_, index) => lowestMidi + index,
  ).filter((midi) => hasPc(chord.chordMask, midi % 12));
  const last = layers.at(-1);
  if (last === undefined || keys.length === 0) return null;
  const verdict = createIntervalTable(rules);
  const open = last.states.map((state) =>
    keys.flatMap((midi, key) => (verdict(midiOf(state), midi, palette) === 'open' ? [key] : [])),
  );
  const isReached = open.some((reached) => reached.length > 0);
  const reached = isReached ? open : open.map(() => [...keys.keys()]);
  const edgeTo: number[] = [];
  const firstEdge = [0];
  for (const own of reached) {
    edgeTo.push(...own);
    firstEdge.push(edgeTo.length);
  }
  const before: Layer = { states: last.states, firstEdge, edgeTo, edgeCharge: edgeTo.map(() => 0) };
  const closing: Layer = {
    states: keys.map((midi) => packState(midi, CLAIM.none, PROOF.settled, 0)),
    firstEdge: [],
    edgeTo: [],
    edgeCharge: [],
  };
  return { layers: [...layers.slice(0, -1), before, closing], startCharges };
}
