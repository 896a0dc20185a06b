/** The least charge for changes any clean line has, and the part of the graph that reaches it. */

import type { Layer, LegalGraph } from './graph.ts';

/** The charge of the best line through a graph, and for each state of each note the least charge still to come. */
export interface Outlook {
  readonly least: number;
  readonly toCome: readonly Float64Array[];
}

/** Looks back from the last note: dynamic programming over the graph. States that lead nowhere have no end of charge. */
export function outlookOf({ layers, startCharges }: LegalGraph): Outlook {
  const toCome: Float64Array[] = [];
  let after: Float64Array = new Float64Array(layers.at(-1)?.states.length ?? 0);
  toCome.push(after);
  for (let index = layers.length - 2; index >= 0; index--) {
    const layer = layers[index];
    if (layer === undefined) break;
    after = leastFrom(layer, after);
    toCome.push(after);
  }
  toCome.reverse();
  const first = toCome[0] ?? new Float64Array(0);
  const least = startCharges.reduce(
    (best, charge, state) => Math.min(best, charge + (first[state] ?? Number.POSITIVE_INFINITY)),
    Number.POSITIVE_INFINITY,
  );
  return { least, toCome };
}

function leastFrom(layer: Layer, after: Float64Array): Float64Array {
  const least = new Float64Array(layer.states.length).fill(Number.POSITIVE_INFINITY);
  for (let state = 0; state < layer.states.length; state++) {
    const end = layer.firstEdge[state + 1] ?? 0;
    let best = Number.POSITIVE_INFINITY;
    for (let edge = layer.firstEdge[state] ?? 0; edge < end; edge++) {
      const charge =
        (layer.edgeCharge[edge] ?? 0) +
        (after[layer.edgeTo[edge] ?? -1] ?? Number.POSITIVE_INFINITY);
      if (charge < best) best = charge;
    }
    least[state] = best;
  }
  return least;
}

/** The graph without every state and edge that lies on no line of least charge. */
export function bestPart(graph: LegalGraph, { least, toCome }: Outlook): LegalGraph {
  const { layers, startCharges } = graph;
  let kept = startCharges.flatMap((charge, state) =>
    charge + (toCome[0]?.[state] ?? 0) === least ? [state] : [],
  );
  const startKept = kept.map((state) => startCharges[state] ?? 0);
  const best = layers.map((layer, index): Layer => {
    const after = toCome[index + 1];
    const here = toCome[index];
    const newPlaces = new Map<number, number>();
    const edgeTo: number[] = [];
    const edgeCharge: number[] = [];
    const firstEdge = [0];
    for (const state of kept) {
      const end = layer.firstEdge[state + 1] ?? 0;
      for (let edge = layer.firstEdge[state] ?? 0; edge < end; edge++) {
        const to = layer.edgeTo[edge] ?? -1;
        const charge = layer.edgeCharge[edge] ?? 0;
        if (charge + (after?.[to] ?? Number.POSITIVE_INFINITY) !== here?.[state]) continue;
        const place = newPlaces.get(to) ?? newPlaces.size;
        newPlaces.set(to, place);
        edgeTo.push(place);
        edgeCharge.push(charge);
      }
      firstEdge.push(edgeTo.length);
    }
    const states = kept.map((state) => layer.states[state] ?? 0);
    kept = [...newPlaces.keys()];
    return { states, firstEdge, edgeTo, edgeCharge };
  });
  return { layers: best, startCharges: startKept };
}
