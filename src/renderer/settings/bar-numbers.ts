/** Bars as a player types them. Pure. */

/** Bars of `3-4, 7` in ascending order, each once; null for what is no such list. */
export function parseBarNumbers(text: string): readonly number[] | null {
  const bars = new Set<number>();
  for (const part of text.split(',').map((piece) => piece.trim())) {
    if (part === '') continue;
    const match = /^(\d{1,4})(?:\s*[-–]\s*(\d{1,4}))?$/.exec(part);
    if (match === null) return null;
    const from = Number(match[1]);
    const to = Number(match[2] ?? match[1]);
    if (from < 1 || to < from) return null;
    for (let bar = from; bar <= to; bar++) bars.add(bar);
  }
  return [...bars].sort((a, b) => a - b);
}

/** Writes bars the shortest way; `parseBarNumbers` reads it back. */
export function formatBarNumbers(bars: readonly number[]): string {
  const runs: { from: number; to: number }[] = [];
  for (const bar of bars) {
    const last = runs.at(-1);
    if (last !== undefined && bar === last.to + 1) last.to = bar;
    else runs.push({ from: bar, to: bar });
  }
  return runs.map(({ from, to }) => (from === to ? `${from}` : `${from}-${to}`)).join(', ');
}
