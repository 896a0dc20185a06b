/** What a library of years costs: its size, the questions progress asks of it, a backup, and putting one back. */

import { copyFileSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import type { CallName, TakeFigures, TakeSetUp } from '../../shared/bridge/index.ts';
import { createTransfer } from '../../src/main/archive/index.ts';
import { createServices, readShipped, type Services } from '../../src/main/services/index.ts';
import {
  createBackups,
  createLibrary,
  createTakeStore,
  openLibrary,
} from '../../src/main/store/index.ts';
import { inspectLibrary } from '../../src/main/store/inspect.ts';
import { newFolder } from '../helpers/library.ts';
import { setUpFor } from '../helpers/set-up.ts';
import { type Bench, distribution, type Figure, type Measure, ratio } from './bench.ts';
import { randomNumbers } from './long-take.ts';

/** Eleven takes a day for ten years, each of about a thousand notes; all of it invented. */
const MANY = 40_000;
const FEW = 400;
const NOTES = 1000;
const BARS = 32;
const CHARTS = 40;
const NOW_MS = 1_800_000_000_000;
const DAY_MS = 86_400_000;
const TAKES_A_DAY = 11;
/** Source: the aims of the program's own plan: at the store, and on screen. */
const AIM_MS = 100;
const AIM_BYTES_PER_NOTE = 12;
const CHART_BARS = `[A]\n${`| ${['Dm7', 'G7', 'Cmaj7', 'A7'].join(' | ')} |\n`.repeat(BARS / 4)}`;
const CHORDS = ['Dm7', 'G7', 'Cmaj7', 'Em7b5', 'A7b9', 'Fm7', 'Bb7', 'Ebmaj7'];

function setUp(chartIds: readonly string[], random: () => number): TakeSetUp {
  const chart = Math.floor(random() ** 2 * CHARTS);
  const base = setUpFor(chartIds[chart]);
  const isDrill = random() < 0.15;
  return {
    ...base,
    chartTitle: `Chart ${chart}`,
    plan: random() < 0.8 ? 'plain' : 'side door',
    key: random() < 0.7 ? 'C' : 'Eb',
    bars: isDrill ? { from: 5, to: 8 } : null,
    grade: {
      ...base.grade,
      level: random() < 0.6 ? 'steps' : 'thirds',
      tempo: { kind: 'steady', tempoBpm: 60 + 4 * Math.floor(random() * 10) },
    },
  };
}

function figures(random: () => number): TakeFigures {
  const bars = Array.from({ length: BARS }, (_, index) => ({
    bar: index + 1,
    slots: 32,
    clean: 32 - Math.floor(random() ** 3 * 12),
  }));
  const late = Math.floor(random() * 6);
  const chords = bars.map(({ bar, slots, clean }) => ({
    ...{ bar, beat: 1, slots, clean, chord: CHORDS[bar % CHORDS.length] ?? 'C' },
    faults: clean === slots ? {} : { outside: slots - clean },
    arrivals: { onTime: 3, unproven: 0, lateBySlots: random() < 0.1 ? [2] : [] },
  }));
  return {
    slots: BARS * 32,
    clean: bars.reduce((sum, { clean }) => sum + clean, 0),
    changesCounted: 120,
    changesOnTime: 120 - late,
    evidence: {
      choruses: 4,
      bars,
      lateChanges: Array.from({ length: late }, () => ({
        ...{ bar: 1 + Math.floor(random() * BARS), beat: 1, toChord: 'G7' },
      })),
      chords,
    },
  };
}

/** A line of stepwise eighths, loose in time and loudness, as a player's is. */
function events(random: () => number) {
  let midi = 60;
  return Array.from({ length: NOTES }, (_, index) => {
    midi = Math.min(84, Math.max(55, midi + Math.round(random() * 4 - 2)));
    const atMs = index * 250 + random() * 30;
    const velocity = 60 + Math.floor(random() * 40);
    return [
      { kind: 'noteOn', atMs, midi, velocity } as const,
      { kind: 'noteOff', atMs: atMs + 150 + random() * 80, midi } as const,
    ];
  }).flat();
}

/** The library's file, and the chart most was played on. */
function makeLibrary(folder: string, takes: number) {
  const random = randomNumbers(7);
  const file = join(folder, 'library.sqlite');
  const database = openLibrary(file);
  const texts = Array.from({ length: CHARTS }, (_, chart) => ({
    title: `Chart ${chart}`,
    text: `title: Chart ${chart}\nkey: C\nmeter: 4/4\ntempo: 90\n${CHART_BARS}\nplan: side door\n${CHART_BARS}`,
    melody: null,
  }));
  const chartIds = createLibrary(database).addCharts(texts, NOW_MS);
  const store = createTakeStore(database, 'bench');
  database.exec('BEGIN');
  for (let take = 0; take < takes; take++) {
    const startedAtMs = NOW_MS - ((takes - take) / TAKES_A_DAY) * DAY_MS;
    store.add(setUp(chartIds, random), startedAtMs, events(random), NOTES * 250, figures(random));
    if (take % 1000 === 999) database.exec('COMMIT; BEGIN');
  }
  database.exec('COMMIT');
  database.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  database.close();
  return { file, chartId: chartIds[0] ?? '' };
}

interface Opened {
  readonly services: Services;
  readonly database: ReturnType<typeof openLibrary>;
  close(): void;
}

function openServices(file: string, folder: string): Opened {
  const database = openLibrary(file);
  const nowMs = (): number => NOW_MS;
  const services = createServices({
    library: createLibrary(database),
    takes: createTakeStore(database, 'bench'),
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

const ALL = { tempoBpm: null, playedAtMs: null, utcOffsetMinutes: 0 };
const EVERY = { chartId: null, plan: null, key: null, level: null };

type Question = readonly [name: string, call: CallName, request: unknown];

function questionsOn(chartId: string): readonly Question[] {
  const practice = { chartId, plan: 'plain', key: 'C', level: 'steps' };
  return [
    ['practices', 'progress.practices', { utcOffsetMinutes: 0 }],
    ['one practice', 'progress.practice', { practice, utcOffsetMinutes: 0 }],
    [
      'session of today',
      'progress.session',
      {
        ...{ minutes: 30, dailyLimitMinutes: 90, locked: [], skippedIds: [] },
        utcOffsetMinutes: 0,
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

async function ask({ services }: Opened, call: CallName, request: unknown): Promise<number> {
  const startMs = performance.now();
  const answer = await services(call, request);
  if (!answer.ok) throw new Error(`${call}: ${answer.refusal.message}`);
  JSON.stringify(answer.value);
  return performance.now() - startMs;
}

async function timed(work: () => unknown) {
  const delays = monitorEventLoopDelay({ resolution: 5 });
  delays.enable();
  const startMs = performance.now();
  await work();
  const ms = performance.now() - startMs;
  await new Promise((resolve) => setTimeout(resolve, 20));
  delays.disable();
  return { ms, heldMs: delays.max / 1e6 };
}

interface Library {
  readonly takes: number;
  readonly bytes: number;
  readonly firstMs: number;
  readonly answers: ReadonlyMap<string, readonly number[]>;
  readonly checkMs: number;
  readonly backupMs: number;
  readonly backupHeldMs: number;
  readonly copyMs: number;
  readonly restoreMs: number;
}

const RUNS = 15;

async function look(takes: number): Promise<Library> {
  const folder = newFolder();
  const { file, chartId } = makeLibrary(folder, takes);
  const bytes = statSync(file).size;
  const check = await timed(() => inspectLibrary(file));
  const opened = openServices(file, folder);
  const firstMs = await ask(opened, 'progress.practices', { utcOffsetMinutes: 0 });
  const answers = new Map<string, readonly number[]>();
  for (const [name, call, request] of questionsOn(chartId)) {
    await ask(opened, call, request);
    const times: number[] = [];
    for (let run = 0; run < RUNS; run++) times.push(await ask(opened, call, request));
    answers.set(name, times);
  }
  const backup = await timed(() => opened.services('library.backup', {}));
  const [made = ''] = readdirSync(join(folder, 'backups')).sort().reverse();
  opened.close();
  const copied = join(newFolder(), 'copied.sqlite');
  const copy = await timed(() => copyFileSync(file, copied));
  const restored = join(newFolder(), 'library.sqlite');
  const restore = await timed(() => {
    copyFileSync(join(folder, 'backups', made), restored);
    const problem = inspectLibrary(restored);
    openLibrary(restored).close();
    return problem;
  });
  return {
    ...{ takes, bytes, firstMs, answers, checkMs: check.ms, copyMs: copy.ms },
    ...{ backupMs: backup.ms, backupHeldMs: backup.heldMs, restoreMs: restore.ms },
  };
}

function questions(few: Library, many: Library): Measure {
  const figuresOf = (name: string): readonly Figure[] => {
    const spread = distribution(`${name}, ${MANY} takes`, 'ms', many.answers.get(name) ?? []);
    const short = distribution(`${name}, ${FEW} takes`, 'ms', few.answers.get(name) ?? []);
    return [
      ...[short, spread],
      ratio(`${name} against the aim`, 'ms', ['median', spread.median], ['aim', AIM_MS], 1),
    ];
  };
  return {
    name: 'what the progress screens ask, once the history is read',
    how: `Each call through the services, its reply checked and written as JSON, ${RUNS} times in one process; the library has ${MANY} takes of ${NOTES} notes, and ${FEW}.`,
    figures: [
      ratio(
        'the first question after a start, per take: many takes to few',
        'µs',
        [`of ${MANY}`, (many.firstMs * 1000) / MANY],
        [`of ${FEW}`, (few.firstMs * 1000) / FEW],
      ),
      ratio('the first question after a start', 'ms', ['it', many.firstMs], ['aim', AIM_MS]),
      ...[...many.answers.keys()].flatMap(figuresOf),
    ],
  };
}

function keeping(many: Library): Measure {
  const perNote = ['bytes per note', many.bytes / (MANY * NOTES)] as const;
  const copy = ['copying the file', many.copyMs] as const;
  return {
    name: `keeping ${MANY} takes`,
    how: 'The file as it lies on disk after a checkpoint; a backup made while the program runs; the same copied into place, checked and opened.',
    figures: [
      ratio('size on disk', 'bytes', perNote, ['aim', AIM_BYTES_PER_NOTE], 1),
      ratio('check at the start', 'ms', ['check', many.checkMs], copy),
      ratio('backup', 'ms', ['backup', many.backupMs], copy),
      ratio(
        'event loop held by the backup',
        'ms',
        ['held', many.backupHeldMs],
        ['frame', 1000 / 60],
      ),
      ratio('restore', 'ms', ['restore', many.restoreMs], copy),
    ],
  };
}

export const storeBench: Bench = {
  title: 'Store',
  about:
    'Ten years of practice: every question within a tenth of a second, at most twelve bytes for a note, and answers that grow no faster than the history.',
  isLong: true,
  async run(effort) {
    if (effort === 'short') return [];
    const few = await look(FEW);
    const many = await look(MANY);
    return [questions(few, many), keeping(many)];
  },
};
