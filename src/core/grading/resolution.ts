/** Times are compared after rounding to this, so that adding floating-point beats does not decide an edge. Own choice. */
export const RESOLUTION_MS = 1e-6;
