/** What the desktop remembers between starts: where the window stood and which files were opened. */

import { readFileSync, renameSync, writeFileSync } from 'node:fs';
import { z } from 'zod';

const boundsSchema = z.object({ x: z.int(), y: z.int(), width: z.int(), height: z.int() });
const stateSchema = z.object({
  bounds: boundsSchema.nullable(),
  isMaximized: z.boolean(),
  /** Paths of files opened, newest first. */
  recent: z.array(z.string()).readonly(),
});

export type Bounds = Readonly<z.infer<typeof boundsSchema>>;
export type DesktopState = Readonly<z.infer<typeof stateSchema>>;

const FIRST_STATE: DesktopState = { bounds: null, isMaximized: false, recent: [] };
const MOST_RECENT = 10;
/** A window of which less than this lies on a screen cannot be taken by its title and moved. */
const LEAST_VISIBLE = { width: 120, height: 60 };

/** What was saved; a first start and a spoilt file give the first state. */
export function loadDesktopState(path: string): DesktopState {
  try {
    return stateSchema.parse(JSON.parse(readFileSync(path, 'utf8')));
  } catch {
    return FIRST_STATE;
  }
}

/** Saves all or nothing. That it fails is no reason to trouble a player: a window's place is lost. */
export function saveDesktopState(path: string, state: DesktopState): void {
  try {
    writeFileSync(`${path}.new`, JSON.stringify(state));
    renameSync(`${path}.new`, path);
  } catch {
    // See above.
  }
}

/** The list with a path on top, each path once. */
export function withRecent(recent: readonly string[], path: string): readonly string[] {
  return [path, ...recent.filter((other) => other !== path)].slice(0, MOST_RECENT);
}

/** The bounds if enough of them lies on one of the screens, which may have been unplugged since; else null. */
export function visibleBounds(bounds: Bounds | null, screens: readonly Bounds[]): Bounds | null {
  if (bounds === null) return null;
  const isVisible = screens.some((screen) => {
    const width =
      Math.min(bounds.x + bounds.width, screen.x + screen.width) - Math.max(bounds.x, screen.x);
    // The title is on top, so the top must be on the screen.
    const isTopOn =
      bounds.y >= screen.y && bounds.y + LEAST_VISIBLE.height <= screen.y + screen.height;
    return width >= LEAST_VISIBLE.width && isTopOn;
  });
  return isVisible ? bounds : null;
}
