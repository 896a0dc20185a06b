/** Builds the renderer when what it is made of is newer than what was built. */
export function buildWhenStale(): void;
/** The same for the desktop host. */
export function buildDesktop(): void;
