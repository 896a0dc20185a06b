/**
 * How often each interval stands in improvised eighth-note lines: 19,494 notes in 1,605 runs of eight and more consecutive
 * eighths of 456 annotated solos. Source: note table of the Weimar Jazz Database (M. Pfleiderer and others, "Inside the
 * Jazzomat", Schott Campus 2017; open data, ODbL), read through the package jazzodata (version not noted),
 * file `wjd_transforms.rda`.
 */

/** Percent of all intervals by signed semitones, from −13, down, to 13, up. */
export const SOLO_INTERVALS: readonly (readonly [semitones: number, percent: number])[] = [
  [-13, 0.0],
  [-12, 0.1],
  [-11, 0.0],
  [-10, 0.1],
  [-9, 0.3],
  [-8, 0.2],
  [-7, 0.5],
  [-6, 0.5],
  [-5, 2.7],
  [-4, 5.6],
  [-3, 9.6],
  [-2, 16.7],
  [-1, 17.1],
  [0, 1.5],
  [1, 13.8],
  [2, 13.7],
  [3, 8.7],
  [4, 3.7],
  [5, 2.8],
  [6, 0.4],
  [7, 0.8],
  [8, 0.3],
  [9, 0.4],
  [10, 0.1],
  [11, 0.1],
  [12, 0.1],
  [13, 0.0],
];
