/** The named points of the shape dial, from 0, plain scales, to 1, wide shapes; between them it changes evenly. */

export const LINE_SHAPES = ['scales', 'scalesAndArpeggios', 'arpeggios', 'wide'] as const;
export type LineShape = (typeof LINE_SHAPES)[number];

/** The density a line is written with at each. */
export const SHAPE_DENSITIES: Readonly<Record<LineShape, number>> = {
  scales: 0,
  scalesAndArpeggios: 1 / 3,
  arpeggios: 2 / 3,
  wide: 1,
};

/** Where intervals are mixed much as solos mix them; see `taste/solo-intervals.data.ts`. */
export const USUAL_SHAPE: LineShape = 'scalesAndArpeggios';
