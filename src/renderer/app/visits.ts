/** The screens shown one after another, as the browser's Back and Forward go over them. Own rules, no outside source. */

import type { Screen } from './screen.ts';

export interface Visits {
  readonly screens: readonly Screen[];
  /** Which of them is shown. */
  readonly at: number;
}

/** What the browser's own list has to do when another screen is shown. */
export type Step = 'push' | 'replace' | 'stay' | 'back';

/** A screen shown after the one of now. */
export function visit({ screens, at }: Visits, next: Screen): { visits: Visits; step: Step } {
  const shown = screens[at];
  if (isSamePlace(shown, next)) return { visits: { screens, at }, step: 'stay' };
  // A run that is over is no place to go back to: what was shown before it, or what came of it, is.
  if (shown?.name !== 'play') {
    return { visits: { screens: [...screens.slice(0, at + 1), next], at: at + 1 }, step: 'push' };
  }
  if (isSamePlace(screens[at - 1], next)) return { visits: { screens, at }, step: 'back' };
  return { visits: { screens: [...screens.slice(0, at), next], at }, step: 'replace' };
}

/** What is shown when the player goes back or forward to a place: a run is ready, and not started by that. */
export function shownAgain(screen: Screen): Screen {
  return screen.name === 'play' ? { ...screen, atOnce: false } : screen;
}

/** Whether two screens are one: those that are shown with nothing but their name. */
function isSamePlace(one: Screen | undefined, other: Screen): boolean {
  return one !== undefined && one.name === other.name && Object.keys(other).length === 1;
}
