/** Libraries with something in them, for tests of the store, of archives and of faults. */

import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import type { TakeFigures } from '../../shared/bridge/index.ts';
import { tellRefusal } from '../../shared/refusal-words.ts';
import type { Melody } from '../../src/core/melody/index.ts';
import type { TakeEvent } from '../../src/core/take/model.ts';
import {
  createLibrary,
  createPracticeJournal,
  createTakeStore,
  StoreError,
  type TakeStore,
} from '../../src/main/store/index.ts';
import { gradeStored } from '../../src/main/takes/index.ts';
import { setUpFor } from './set-up.ts';

/** A new folder for one test. */
export function newFolder(): string {
  return mkdtempSync(join(tmpdir(), 'store-'));
}

/** The code of the `StoreError` that work throws, or its promise is rejected with. */
export async function codeOf(work: () => unknown): Promise<string> {
  return (await refusalFrom(work)).code;
}

export async function refusalFrom(work: () => unknown) {
  try {
    await work();
  } catch (error) {
    if (error instanceof StoreError) return { ...error.refusal, ...tellRefusal(error.refusal) };
    throw error;
  }
  throw new Error('nothing was thrown');
}

/** Key-downs and key-ups, each different from take to take, in whole eighths of a millisecond. */
export function eventsOf(take: number, notes = 40): readonly TakeEvent[] {
  return Array.from({ length: notes }, (_, note) => [
    {
      kind: 'noteOn' as const,
      atMs: note * 250 + take + 0.125,
      midi: 48 + ((note + take) % 30),
      velocity: 60 + (note % 40),
    },
    {
      kind: 'noteOff' as const,
      atMs: note * 250 + take + 199.875,
      midi: 48 + ((note + take) % 30),
    },
  ]).flat();
}

export const FIGURES: TakeFigures = {
  slots: 40,
  clean: 37,
  changesCounted: 4,
  changesOnTime: 3,
  changesUnproven: 0,
  changesLeftOut: 0,
  evidence: {
    choruses: 2,
    bars: [{ bar: 1, slots: 8, clean: 7 }],
    lateChanges: [{ bar: 2, beat: 1, toChord: 'G7' }],
  },
};

/** A pickup tied into the one bar of the first chart. */
export const MELODY: Melody = {
  leadIn: 6,
  fifths: 0,
  bars: [{ meter: '4/4', roots: [0, 0, 0, 0] }],
  sounds: [
    { from: -6, length: 18, name: 'E4' },
    { from: 16, length: 8, name: 'Bb4' },
  ],
};

export const FIRST_START_MS = Date.UTC(2026, 0, 5, 18);

/** A take with the figures the host makes of it. */
function addGraded(store: TakeStore, startedAtMs: number, chartId: string, take: number): string {
  const setUp = setUpFor(chartId);
  const played = { events: eventsOf(take), endMs: 10_500, sources: [], breaks: [] };
  const { figures } = gradeStored(setUp, played, null);
  return store.add(setUp, startedAtMs, played.events, played.endMs, figures);
}

/** Fills a library with takes on two charts, one take of them unfinished and one deleted, tags, melodies, settings, devices, remarks. */
export function fill(database: DatabaseSync, takes: number): readonly string[] {
  database.exec('BEGIN');
  const library = createLibrary(database);
  const store = createTakeStore(database);
  const pier = library.saveChart(
    null,
    'Cold Pier',
    'title: Cold Pier\nkey: C\nmeter: 4/4\n| Cmaj7 |\n',
    1,
  );
  library.saveChart(null, 'Łódź – “quay”', 'title: Łódź – “quay”\r\n# half written\n| C', 2);
  const gone = library.saveChart(null, 'Gone', '', 3);
  library.setChartDeleted(gone, 4);
  library.setTags(pier, ['winter', 'slow']);
  library.setTags('built-in:lantern-walk', ['opener']);
  library.setMelody(pier, MELODY);
  library.setMelody(gone, MELODY);
  library.saveSettings({
    player: { look: { theme: 'dark' } },
    [`practice:${pier}`]: { tempoBpm: 66 },
  });
  library.saveDevice({
    deviceName: 'Stage piano',
    outputName: 'speakers',
    latencyMs: 23.5,
    spreadMs: null,
    splitMidi: 59,
    channel: 3,
  });
  const journal = createPracticeJournal(database);
  journal.setRemark({ atMs: FIRST_START_MS, text: 'Cold hands,\n“slow” – Łódź' });
  journal.setRemark({ atMs: FIRST_START_MS + 0.5, text: 'half a ms later' });
  const ids = Array.from({ length: takes }, (_, take) => {
    const id = addGraded(store, FIRST_START_MS + take * 3_600_000, pier, take);
    if (take % 5 === 0) store.setNote(id, `take ${take}: cold hands`);
    return id;
  });
  const deleted = addGraded(store, FIRST_START_MS - 1, pier, 999);
  store.setDeleted(deleted, 5);
  const unfinished = store.begin(
    setUpFor('built-in:lantern-walk'),
    FIRST_START_MS + takes * 3_600_000,
  );
  store.append(unfinished, 0, eventsOf(7, 3));
  store.append(unfinished, 6, [{ kind: 'allOff', atMs: 900, cause: 'disconnect' }]);
  database.exec('COMMIT');
  return [...ids, unfinished];
}
