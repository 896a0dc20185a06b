/** Builds the renderer, and the two hosts, each when what it is made of is newer than what was built. */
export function buildWhenStale(): void;
