/** The named points of the shape dial, from 0, plain scales, to 1, wide shapes. */

export const LINE_SHAPES = ['scales', 'scalesAndArpeggios', 'arpeggios', 'wide'] as const;
export type LineShape = (typeof LINE_SHAPES)[number];

/** The density a line is written with at each. */
export const SHAPE_DENSITIES: Readonly<Record<LineShape, number>> = {
  scales: 0,
  scalesAndArpeggios: 0.25,
  arpeggios: 0.5,
  wide: 1,
};

/** Mostly scales: a line that can be remembered and answered. Common practice, no source. */
export const USUAL_SHAPE: LineShape = 'scalesAndArpeggios';
