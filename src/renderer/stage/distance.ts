/** How large what is read from the piano stool has to be: shares of the distance it is read from. Pure. */

/** CSS defines its pixel as 1/96 inch. */
const PX_PER_MM = 96 / 25.4;

/**
 * Capitals, and marks in their smaller extent, are at least the distance divided by this. A character reads from 1/200 of the
 * distance on: about 17 minutes of arc, where ISO 9241-3 asks at least 16 (from memory). What is looked at while playing is larger; a
 * mark or a total that is told by its shape and place may be a little smaller.
 */
export const LEGIBLE = {
  great: 100,
  next: 150,
  count: 150,
  name: 200,
  mark: 250,
  total: 250,
} as const;

/** A share of the distance in CSS pixels: `farPx(1, 250)` is 1/250 of a metre. */
export function farPx(distanceM: number, share: number): number {
  return (distanceM * 1000 * PX_PER_MM) / share;
}

/** Heights in em. Source: the fonts' own tables, Source Serif 4 and Source Sans 3. */
export const SERIF_CAPITAL_EM = 0.67;
export const SANS_CAPITAL_EM = 0.66;
const SERIF_FIGURE_EM = 0.65;
/** A chord's suffix against its root. */
export const SUFFIX = 0.64;

/** The size of type, px, at which a serif capital has this height. */
export const serifPx = (capitalPx: number): number => capitalPx / SERIF_CAPITAL_EM;
export const sansPx = (capitalPx: number): number => capitalPx / SANS_CAPITAL_EM;
/** The size of a root, px, whose raised figure has this height. */
export const rootOfSuffixPx = (figurePx: number): number => figurePx / SERIF_FIGURE_EM / SUFFIX;
