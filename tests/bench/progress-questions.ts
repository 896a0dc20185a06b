/** What the progress screens ask of a library, through the services. */

import { join } from 'node:path';
import type { CallName } from '../../shared/bridge/index.ts';
import { tellRefusal } from '../../shared/refusal-words.ts';
import { createTransfer } from '../../src/main/archive/index.ts';
import { createServices, readShipped, type Services } from '../../src/main/services/index.ts';
import {
  createBackups,
  createLibrary,
  createTakeStore,
  openLibrary,
} from '../../src/main/store/index.ts';

export interface Opened {
  readonly services: Services;
  readonly database: ReturnType<typeof openLibrary>;
  close(): void;
}

/** The services over a library, at a moment in ms since 1970. */
export function openServices(file: string, folder: string, atMs: number): Opened {
  const database = openLibrary(file);
  const nowMs = (): number => atMs;
  const { services } = createServices({
    library: createLibrary(database),
    takes: createTakeStore(database),
    shipped: readShipped(join(import.meta.dirname, '..', '..', 'shared')),
    database,
    backups: createBackups(database, join(folder, 'backups'), nowMs, () => {}),
    transfer: createTransfer(join(folder, 'transfer')),
    dataFolder: folder,
    requireFile() {},
    notices: [],
    host: 'browser',
    version: '0.0.0',
    nowMs,
    push() {},
  });
  return { services, database, close: () => database.close() };
}

const ALL = { tempoBpm: null, playedAtMs: null };
const EVERY = { chartId: null, plan: null, key: null, level: null };

export type Question = readonly [name: string, call: CallName, request: unknown];

export function questionsOn(chartId: string): readonly Question[] {
  const practice = { chartId, plan: 'plain', key: 'C', level: 'steps' };
  return [
    ['practices', 'progress.practices', { most: 8 }],
    ['one practice', 'progress.practice', { practice }],
    [
      'session of today',
      'progress.session',
      {
        ...{ minutes: 30, dailyLimitMinutes: 90, locked: [], skippedIds: [] },
      },
    ],
    ['ladder', 'progress.ladder', { chartId }],
    ['rules by bars', 'progress.heat', { picture: 'rulesByBars', ...practice, ...ALL }],
    ['weeks by bars', 'progress.heat', { picture: 'weeksByBars', ...practice, ...ALL }],
    ['chords by roots', 'progress.heat', { picture: 'chordsByRoots', ...EVERY, ...ALL }],
    ['changes by lateness', 'progress.heat', { picture: 'changesByLateness', ...practice, ...ALL }],
    ['takes of a chart', 'takes.list', { chartId, limit: 50 }],
  ];
}

/** Asks, and gives the milliseconds until the reply is written out. */
export async function ask({ services }: Opened, call: CallName, request: unknown): Promise<number> {
  const startMs = performance.now();
  const answer = await services(call, request, 'page');
  if (!answer.ok) throw new Error(`${call}: ${tellRefusal(answer.refusal).message}`);
  JSON.stringify(answer.value);
  return performance.now() - startMs;
}
