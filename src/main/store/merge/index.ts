/**
 * Another library's contents into this one, all or nothing. What is here already is never overwritten: the same is
 * passed over, what differs is kept beside what is here, and for what there can be only one of, the one here stays.
 */

import type { DatabaseSync } from 'node:sqlite';
import type { Device, ImportResult } from '../../../../shared/bridge/index.ts';
import type { SessionRemark } from '../../../core/journal/index.ts';
import {
  type KeptChart,
  type KeptMelody,
  type KeptSetting,
  type KeptTags,
  readContents,
} from '../contents.ts';
import { transaction } from '../open-store.ts';
import { mergeCharts, mergeMelodies, mergeTags } from './merge-charts.ts';
import { mergeRemarks } from './merge-remarks.ts';
import { mergeDevices, mergeSettings } from './merge-settings.ts';
import { mergeTakes, type PackedTake } from './merge-takes.ts';
import { createTally, resultOf } from './tally.ts';

export { packTake } from './merge-takes.ts';

export interface Incoming {
  readonly charts: readonly KeptChart[];
  readonly tags: readonly KeptTags[];
  readonly melodies: readonly KeptMelody[];
  readonly settings: readonly KeptSetting[];
  readonly devices: readonly Device[];
  readonly remarks: readonly SessionRemark[];
  readonly takes: readonly PackedTake[];
}

/** Merges what comes in, in one transaction, and tells what became of it. */
export function mergeContents(database: DatabaseSync, incoming: Incoming): ImportResult {
  const own = readContents(database);
  const tally = createTally();
  transaction(database, () => {
    const keptAs = mergeCharts(database, own, incoming.charts, tally);
    mergeTags(database, own, incoming.tags);
    mergeMelodies(database, own, incoming, keptAs, tally);
    mergeTakes(database, own, incoming.takes, tally);
    mergeSettings(database, own, incoming.settings, tally);
    mergeDevices(database, own, incoming.devices, tally);
    mergeRemarks(database, own, incoming.remarks, tally);
  });
  return resultOf(tally);
}
