/** All clean lines at once: for each note the states it may have, and which lead to which. */

import type { LineEntry } from './entries.ts';
import { createFollower } from './follow.ts';
import type { LegalRules } from './rules.ts';
import { STATE_LIMIT } from './state.ts';

/** The states of one note, and the edges to the states of the next note, those of state n from `firstEdge[n]` on. */
export interface Layer {
  readonly states: readonly number[];
  readonly firstEdge: readonly number[];
  /** Index of a state of the next layer. */
  readonly edgeTo: readonly number[];
  /** Charge for changes; see `proof.ts`. */
  readonly edgeCharge: readonly number[];
}

export interface LegalGraph {
  readonly layers: readonly Layer[];
  /** Charges of the first note's states. */
  readonly startCharges: readonly number[];
}

/** The graph, or the place where it ends: no clean line goes on to that note. */
export type LegalOutcome =
  | { readonly ok: true; readonly graph: LegalGraph }
  | { readonly ok: false; readonly atEntry: number };

interface OpenLayer {
  readonly states: number[];
  readonly firstEdge: number[];
  readonly edgeTo: number[];
  readonly edgeCharge: number[];
}

function openLayer(): OpenLayer {
  return { states: [], firstEdge: [], edgeTo: [], edgeCharge: [] };
}

/** Follows the rules from the first note to the last. There is at least one entry. */
export function legalGraph(entries: readonly LineEntry[], rules: LegalRules): LegalOutcome {
  const follower = createFollower(rules);
  const layers: Layer[] = [];
  const startCharges: number[] = [];
  let layer = openLayer();
  const first = entries[0];
  if (first !== undefined) {
    follower.start(first, (state, charge) => {
      layer.states.push(state);
      startCharges.push(charge);
    });
  }
  if (layer.states.length === 0) return { ok: false, atEntry: 0 };

  const placeOf = new Int32Array(STATE_LIMIT).fill(-1);
  for (let index = 1; index < entries.length; index++) {
    const entry = entries[index];
    if (entry === undefined) break;
    const next = openLayer();
    const { states, firstEdge, edgeTo, edgeCharge } = layer;
    const addEdge = (state: number, charge: number): void => {
      let place = placeOf[state] ?? -1;
      if (place < 0) {
        place = next.states.length;
        placeOf[state] = place;
        next.states.push(state);
      }
      edgeTo.push(place);
      edgeCharge.push(charge);
    };
    for (const state of states) {
      firstEdge.push(edgeTo.length);
      follower.follow(entry, state, addEdge);
    }
    firstEdge.push(edgeTo.length);
    for (const state of next.states) placeOf[state] = -1;
    if (next.states.length === 0) return { ok: false, atEntry: index };
    layers.push(layer);
    layer = next;
  }
  layers.push(layer);
  return { ok: true, graph: { layers, startCharges } };
}
