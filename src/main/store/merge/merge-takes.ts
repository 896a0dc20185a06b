/** Takes that come in: new, the same performance, or another beside one of their id. */

import type { DatabaseSync } from 'node:sqlite';
import { asPlayed } from '../../../../shared/bridge/index.ts';
import { keptCivilTime } from '../civil-time.ts';
import type { Contents, KeptTake } from '../contents.ts';
import { packEvents } from '../event-codec.ts';
import { packFigures } from '../figures-codec.ts';
import { listText } from '../take-details.ts';
import { createTakeFacts } from '../take-facts.ts';
import { derivedId, type Tally } from './tally.ts';

/** A take with its events as they are stored: ten years of them have room in memory. */
export interface PackedTake extends Omit<KeptTake, 'events'> {
  readonly eventCount: number;
  readonly bytes: Uint8Array;
}

export function packTake({ events, ...take }: KeptTake): PackedTake {
  return { ...take, eventCount: events.length, bytes: packEvents(events) };
}

export function mergeTakes(
  database: DatabaseSync,
  own: Contents,
  incoming: readonly PackedTake[],
  { added, alreadyHere, told }: Tally,
): void {
  const rows = new Map<string, number>();
  for (const row of database.prepare('SELECT rowid AS id, take_id FROM takes').all()) {
    rows.set(String(row['take_id']), Number(row['id']));
  }
  const fresh = new Map<string, PackedTake>();
  const isUsed = (takeId: string): boolean => rows.has(takeId) || fresh.has(takeId);

  /** The take of an id that is in use; null for a deleted one, and for one that cannot be read. */
  function known(takeId: string): PackedTake | null {
    const row = rows.get(takeId);
    const take = row === undefined ? null : own.take(row);
    return fresh.get(takeId) ?? (take && packTake(take));
  }
  function add(takeId: string, take: PackedTake): void {
    insertTake(database, takeId, take);
    fresh.set(takeId, take);
    added.takes++;
  }

  for (const take of incoming) {
    if (!isUsed(take.takeId)) {
      add(take.takeId, take);
      continue;
    }
    const here = known(take.takeId);
    const same = here === null ? 'other' : sameness(here, take);
    if (same === 'equal') alreadyHere.takes++;
    else if (same === 'played') {
      alreadyHere.takes++;
      told.push({ kind: 'takeNote', ...nameOf(take) });
    } else {
      const otherId = derivedId(take.takeId, playedContent(take));
      if (isUsed(otherId)) alreadyHere.takes++;
      else {
        add(otherId, take);
        const because = here === null ? 'gone' : 'differs';
        told.push({ kind: 'takeBeside', ...nameOf(take), because });
      }
    }
  }
  createTakeFacts(database).write(...fresh.keys());
}

function nameOf({ startedAtMs, setUp }: PackedTake) {
  return { startedAtMs, chartTitle: setUp.chartTitle };
}

function insertTake(database: DatabaseSync, takeId: string, take: PackedTake): void {
  const { chartText, ...setUp } = take.setUp;
  const packed = packFigures(take.figures);
  const { day, minute, zone } = keptCivilTime(take.startedAtMs, take.civilTime ?? {});
  database
    .prepare(
      `INSERT INTO takes (take_id, chart_id, set_up, chart_text, started_at_ms, day, minute, zone, end_ms, note,
         figures, evidence, finished, session_id, sources, breaks, decision)
       VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, 1, '', ?, ?, ?)`,
    )
    .run(
      takeId,
      setUp.chartId,
      JSON.stringify(setUp),
      chartText,
      take.startedAtMs,
      ...[day, minute, zone],
      take.endMs,
      take.note,
      packed.figures,
      packed.evidence,
      listText(take.sources),
      listText(take.breaks),
      take.decision === null ? null : JSON.stringify(take.decision),
    );
  if (take.eventCount === 0) return;
  database
    .prepare(
      'INSERT INTO take_chunks (take_id, from_event, events, bytes, deflated) VALUES (?, 0, ?, ?, 1)',
    )
    .run(takeId, take.eventCount, take.bytes);
}

/** What was played and on what, as text: equal texts are the same performance. */
function playedContent({ setUp, startedAtMs, bytes, sources, breaks }: PackedTake): string {
  const own = [asPlayed(setUp), startedAtMs, Buffer.from(bytes).toString('base64')];
  // The id of a take kept beside another is told from this: that of a take from before there were any stays what it was.
  const isPlain = sources.length + breaks.length === 0;
  return JSON.stringify(isPlain ? own : [...own, sources, breaks]);
}

function sameness(known: PackedTake, take: PackedTake): 'equal' | 'played' | 'other' {
  if (playedContent(known) !== playedContent(take)) return 'other';
  const rest = ({ endMs, note, decision }: PackedTake): string =>
    JSON.stringify([endMs, note, decision]);
  return rest(known) === rest(take) ? 'equal' : 'played';
}
