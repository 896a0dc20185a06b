/** Where the targets of a drill stand. */

import type { DrillPlace } from './drill-places.ts';

/**
 * The slots of the targets, at least so many slots apart: the first slot; where a bar or a chord begins; and each beat
 * between that leaves as much room before the next of those. A bar or chord that begins too soon after a target is passed
 * over. With eighths in 4/4: every beat when two apart, beats 1 and 3 when three apart. Common practice as to strong
 * places; the spacing is our own.
 */
export function strongPlaces(places: readonly DrillPlace[], apart: number): readonly number[] {
  const strong: number[] = [];
  let opening = 0;
  places.forEach(({ entry, opens }, slot) => {
    if (entry.place.sub !== 0) return;
    const last = strong.at(-1);
    const hasRoom = last === undefined || slot - last >= apart;
    while (opening <= slot || (opening < places.length && places[opening]?.opens !== true)) {
      opening++;
    }
    if (hasRoom && (opens || opening - slot >= apart)) strong.push(slot);
  });
  return strong;
}
