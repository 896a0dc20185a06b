/**
 * The line itself: of all lines in a graph the one of least cost, by dynamic programming over the graph's states and
 * the motion of the line. Nothing is tried and thrown away.
 */

import { isDebt } from './legal/claims.ts';
import type { Layer, LegalGraph } from './legal/graph.ts';
import { claimOf, midiOf, takenOf } from './legal/state.ts';
import { intervalCost } from './taste/interval-cost.ts';
import { MOTIONS } from './taste/motion.ts';
import { moveCosts } from './taste/move-costs.ts';
import { MOVES, moveBetween } from './taste/moves.ts';
import { chanceAt, STREAM } from './taste/noise.ts';
import { createPlaceCost, type TastePlace } from './taste/place-costs.ts';
import { weightsAt } from './taste/weights.ts';
import type { LineWish } from './wish.ts';

const MOTION_COUNT = MOTIONS.length;
const NONE = -1;

/** The keys of the best line. In: a graph as `bestGraph` gives it, a place for each of its layers, and the wish. */
export function bestLine(
  { layers }: LegalGraph,
  places: readonly TastePlace[],
  { density, register, seed }: LineWish,
): readonly number[] {
  const weights = weightsAt(density);
  const shape = moveCosts(weights);
  const placeCost = createPlaceCost(weights, register, seed);
  const cameFrom: Int32Array[] = [];
  let costs = firstCosts(layers[0], places[0], placeCost);

  for (let index = 1; index < layers.length; index++) {
    const layer = layers[index - 1];
    const nextLayer = layers[index];
    const place = places[index];
    if (layer === undefined || nextLayer === undefined || place === undefined) break;
    const { palette } = place.entry;
    const next = new Float64Array(nextLayer.states.length * MOTION_COUNT).fill(
      Number.POSITIVE_INFINITY,
    );
    const from = new Int32Array(next.length).fill(NONE);
    const stays = nextLayer.states.map((state) => {
      const outside = isDebt(claimOf(state)) ? weights.outside : 0;
      return placeCost(place, index, midiOf(state)) + outside;
    });
    const turnNoise = weights.turnNoise * (chanceAt(seed, STREAM.turn, index) - 0.5);

    for (let state = 0; state < layer.states.length; state++) {
      const packed = layer.states[state] ?? 0;
      const fromMidi = midiOf(packed);
      const end = layer.firstEdge[state + 1] ?? 0;
      for (let edge = layer.firstEdge[state] ?? 0; edge < end; edge++) {
        const to = layer.edgeTo[edge] ?? 0;
        const toPacked = nextLayer.states[to] ?? 0;
        const toMidi = midiOf(toPacked);
        const move = moveBetween(fromMidi, toMidi, palette);
        const linedUp = takenOf(toPacked) > takenOf(packed) ? weights.lineUp : 0;
        const step =
          (stays[to] ?? 0) + intervalCost(place, fromMidi, toMidi, move, weights) + linedUp;
        for (let motion = 0; motion < MOTION_COUNT; motion++) {
          const before = costs[state * MOTION_COUNT + motion] ?? Number.POSITIVE_INFINITY;
          if (before === Number.POSITIVE_INFINITY) continue;
          const cell = motion * MOVES + move;
          const cost =
            before + step + (shape.cost[cell] ?? 0) + turnNoise * (shape.turns[cell] ?? 0);
          const target = to * MOTION_COUNT + (shape.after[cell] ?? 0);
          if (cost < (next[target] ?? 0)) {
            next[target] = cost;
            from[target] = state * MOTION_COUNT + motion;
          }
        }
      }
    }
    cameFrom.push(from);
    costs = next;
  }
  return traceBack(layers, cameFrom, indexOfLeast(costs));
}

function firstCosts(
  layer: Layer | undefined,
  place: TastePlace | undefined,
  placeCost: ReturnType<typeof createPlaceCost>,
): Float64Array {
  const states = layer?.states ?? [];
  const costs = new Float64Array(states.length * MOTION_COUNT).fill(Number.POSITIVE_INFINITY);
  states.forEach((state, index) => {
    costs[index * MOTION_COUNT] = place === undefined ? 0 : placeCost(place, 0, midiOf(state));
  });
  return costs;
}

function indexOfLeast(costs: Float64Array): number {
  let least = 0;
  costs.forEach((cost, index) => {
    if (cost < (costs[least] ?? 0)) least = index;
  });
  return least;
}

function traceBack(
  layers: readonly Layer[],
  cameFrom: readonly Int32Array[],
  last: number,
): readonly number[] {
  const midis: number[] = [];
  let at = last;
  for (let index = layers.length - 1; index >= 0; index--) {
    midis.push(midiOf(layers[index]?.states[Math.floor(at / MOTION_COUNT)] ?? 0));
    at = cameFrom[index - 1]?.[at] ?? 0;
  }
  return midis.reverse();
}
