/** A stored take as what was recorded, to be graded, heard and written to files. */

import type { TakeRecord } from '../../../shared/bridge/index.ts';
import type { TakeEvents } from '../../core/take/model.ts';

export function recordedTake({ events, row, sources, breaks }: TakeRecord): TakeEvents {
  return { events, endMs: row.endMs, sources, breaks };
}
