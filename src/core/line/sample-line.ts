/**
 * The line itself: one of all lines in a graph, drawn by chance, a line the more seldom the more it costs. Drawn note by
 * note from the beginning, each note by what it costs and by what all lines from it on cost together, which is summed from
 * the end beforehand (forward filtering and backward sampling, the other way round). Nothing is tried and thrown away.
 */

import { isDebt } from './legal/claims.ts';
import type { Layer, LegalGraph } from './legal/graph.ts';
import { claimOf, midiOf, takenOf } from './legal/state.ts';
import { intervalCost } from './taste/interval-cost.ts';
import { motionCosts, NO_MOVE } from './taste/motion-cost.ts';
import { MOVES, moveBetween } from './taste/moves.ts';
import { chanceAt, STREAM } from './taste/noise.ts';
import { createPast } from './taste/past.ts';
import { createPlaceCost, type TastePlace } from './taste/place-costs.ts';
import { type Weights, weightsAt } from './taste/weights.ts';
import type { LineWish } from './wish.ts';

/** The weight of each edge of a layer, and the move it makes. */
interface WeighedEdges {
  readonly weight: Float64Array;
  readonly move: Uint8Array;
}

/** The keys of a line. In: a graph as `bestGraph` gives it, a place for each of its layers, and the wish. */
export function sampleLine(
  { layers }: LegalGraph,
  places: readonly TastePlace[],
  { style, density, direction, register, seed }: LineWish,
): readonly number[] {
  const weights = weightsAt(style, density);
  const placeCost = createPlaceCost(weights, register, seed);
  const motion = motionCosts(weights, direction).map((cost) => Math.exp(-cost));
  const costsOf = (index: number): Float64Array =>
    Float64Array.from(layers[index]?.states ?? [], (state) => {
      const place = places[index];
      return place === undefined
        ? 0
        : placeCost(place, midiOf(state)) + debtCost(state, place, weights);
    });
  const edges = layers.map((layer, index) =>
    weighEdges(layer, layers[index + 1], places[index + 1], costsOf(index + 1), weights),
  );
  const ahead = sumAhead(layers, edges, motion);
  const past = createPast(places, weights, seed);

  const midis: number[] = [];
  const firstCosts = costsOf(0);
  let state = pick(
    firstCosts.map((cost, at) => Math.exp(-cost) * (ahead[0]?.[at * BEFORES + NO_MOVE] ?? 0)),
    chanceAt(seed, STREAM.note, 0),
  );
  let before = NO_MOVE;
  midis.push(midiOf(layers[0]?.states[state] ?? 0));
  for (let index = 1; index < layers.length; index++) {
    const layer = layers[index - 1];
    const own = edges[index - 1];
    const next = layers[index];
    const onward = ahead[index];
    if (layer === undefined || own === undefined || next === undefined) break;
    const pastCost = past.costAt(index, midis);
    const first = layer.firstEdge[state] ?? 0;
    const end = layer.firstEdge[state + 1] ?? first;
    const chances = Float64Array.from({ length: end - first }, (_, offset) => {
      const edge = first + offset;
      const to = layer.edgeTo[edge] ?? 0;
      const move = own.move[edge] ?? 0;
      return (
        (own.weight[edge] ?? 0) *
        (motion[before * MOVES + move] ?? 0) *
        (onward?.[to * BEFORES + move] ?? 0) *
        Math.exp(-pastCost(midiOf(next.states[to] ?? 0)))
      );
    });
    const edge = first + pick(chances, chanceAt(seed, STREAM.note, index));
    state = layer.edgeTo[edge] ?? 0;
    before = own.move[edge] ?? 0;
    midis.push(midiOf(next.states[state] ?? 0));
  }
  return midis;
}

/** Moves before a note that are told apart, `NO_MOVE` included. */
const BEFORES = MOVES + 1;

function debtCost(state: number, { strength }: TastePlace, weights: Weights): number {
  return isDebt(claimOf(state)) ? weights.outside + weights.outsideOnBeat * strength : 0;
}

function weighEdges(
  layer: Layer,
  next: Layer | undefined,
  place: TastePlace | undefined,
  costs: Float64Array,
  weights: Weights,
): WeighedEdges {
  const weight = new Float64Array(layer.edgeTo.length);
  const move = new Uint8Array(layer.edgeTo.length);
  if (next === undefined || place === undefined) return { weight, move };
  const { palette } = place.entry;
  layer.states.forEach((from, state) => {
    const fromMidi = midiOf(from);
    const end = layer.firstEdge[state + 1] ?? 0;
    for (let edge = layer.firstEdge[state] ?? 0; edge < end; edge++) {
      const to = layer.edgeTo[edge] ?? 0;
      const packed = next.states[to] ?? 0;
      const toMidi = midiOf(packed);
      const kind = moveBetween(fromMidi, toMidi, palette);
      const linedUp = takenOf(packed) > takenOf(from) ? weights.lineUp : 0;
      const cost =
        (costs[to] ?? 0) + intervalCost(place, fromMidi, toMidi, kind, weights) + linedUp;
      weight[edge] = Math.exp(-cost);
      move[edge] = kind;
    }
  });
  return { weight, move };
}

/**
 * For each state of each layer and each move that led to it (`state * BEFORES + move`): what all lines from there on weigh
 * together, in proportion within its layer.
 */
function sumAhead(
  layers: readonly Layer[],
  edges: readonly WeighedEdges[],
  motion: Float64Array,
): readonly Float64Array[] {
  const ahead: Float64Array[] = [];
  let after = new Float64Array((layers.at(-1)?.states.length ?? 0) * BEFORES).fill(1);
  ahead.push(after);
  const byMove = new Float64Array(MOVES);
  for (let index = layers.length - 2; index >= 0; index--) {
    const layer = layers[index];
    const own = edges[index];
    if (layer === undefined || own === undefined) break;
    const here = new Float64Array(layer.states.length * BEFORES);
    let largest = 0;
    for (let state = 0; state < layer.states.length; state++) {
      byMove.fill(0);
      const end = layer.firstEdge[state + 1] ?? 0;
      for (let edge = layer.firstEdge[state] ?? 0; edge < end; edge++) {
        const move = own.move[edge] ?? 0;
        const onward = after[(layer.edgeTo[edge] ?? 0) * BEFORES + move] ?? 0;
        byMove[move] = (byMove[move] ?? 0) + (own.weight[edge] ?? 0) * onward;
      }
      for (let before = 0; before < BEFORES; before++) {
        let sum = 0;
        for (let move = 0; move < MOVES; move++) {
          sum += (motion[before * MOVES + move] ?? 0) * (byMove[move] ?? 0);
        }
        here[state * BEFORES + before] = sum;
        if (sum > largest) largest = sum;
      }
    }
    // Weights of long lines would grow too small for a number.
    after = here.map((sum) => sum / largest);
    ahead.push(after);
  }
  return ahead.reverse();
}

/** An index by chance (0 up to 1), in proportion to the weights. */
function pick(weights: Float64Array, chance: number): number {
  let left = chance * weights.reduce((sum, weight) => sum + weight, 0);
  for (let index = 0; index < weights.length; index++) {
    left -= weights[index] ?? 0;
    if (left < 0) return index;
  }
  // Rounding may leave a trace: then it is the last that can be chosen at all.
  return Math.max(
    0,
    weights.findLastIndex((weight) => weight > 0),
  );
}
