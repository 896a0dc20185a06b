/** The package ships no types: pairs of indices of a maximum matching between n and m things. */
declare module 'bipartite-matching' {
  export default function findBipartiteMatching(
    n: number,
    m: number,
    edges: readonly (readonly [number, number])[],
  ): readonly (readonly [number, number])[];
}
