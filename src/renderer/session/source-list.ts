/** The keyboards of a take, each from its first key on. */

import { MOST_SOURCES, type TakeSource } from '../../core/take/model.ts';
import type { PlayedKey } from './live-take.ts';

export interface SourceList {
  /** All so far, in the order in which they were heard. */
  all(): readonly TakeSource[];
  /**
   * The index of the source of a key. Null for what a keyboard lets go of that has not played in this take: nothing of it
   * sounds.
   */
  indexOf(key: PlayedKey, deviceName: string): number | null;
}

/** `sourceFor` gives what is known of a keyboard; `onNew` is told of each before its first key is answered. */
export function createSourceList(
  sourceFor: (deviceName: string) => TakeSource,
  onNew: (sources: readonly TakeSource[]) => void,
): SourceList {
  const indices = new Map<string, number>();
  let sources: readonly TakeSource[] = [];
  return {
    all: () => sources,
    indexOf(key, deviceName) {
      const known = indices.get(deviceName);
      if (known !== undefined) return known;
      if (key.kind === 'noteOff' || key.kind === 'allOff') return null;
      // Nobody has so many; those beyond are heard as the last.
      if (sources.length === MOST_SOURCES) return MOST_SOURCES - 1;
      indices.set(deviceName, sources.length);
      sources = [...sources, sourceFor(deviceName)];
      onNew(sources);
      return sources.length - 1;
    },
  };
}
