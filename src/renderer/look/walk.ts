/** A list as one stop on the way by keyboard: two keys lead to its neighbours, Home and End to its ends. */

import type { KeyboardEvent } from 'react';

/** Gives the focus to where the key leads among `stops`; `keys` are those for back and on. Other keys are left alone. */
export function walk(
  event: KeyboardEvent,
  stops: readonly (Element | null)[],
  [back, on]: readonly [back: string, on: string],
): void {
  const at = stops.indexOf(document.activeElement);
  const to = { [back]: at - 1, [on]: at + 1, Home: 0, End: stops.length - 1 }[event.key];
  if (to === undefined) return;
  event.preventDefault();
  const next = stops[to];
  if (next instanceof HTMLElement || next instanceof SVGElement) next.focus();
}
