/** What a file says about itself, beside what was played. */

import type { SmfEvent, SmfFile } from './model.ts';

export type SmfMeta = Extract<SmfEvent, { readonly kind: 'meta' }>;

/** The meta events of a file, track after track, each track in order. */
export function metaEvents(file: SmfFile): readonly SmfMeta[] {
  const metas: SmfMeta[] = [];
  // A loop: the few are looked for among hundreds of thousands, and a list for each event costs more than reading them.
  for (const track of file.tracks) {
    for (const event of track) if (event.kind === 'meta') metas.push(event);
  }
  return metas;
}
