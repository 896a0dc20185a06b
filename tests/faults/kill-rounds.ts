/** Kills hosts at seeded moments, and looks at what each left behind. */

import { spawn } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { isDeepStrictEqual } from 'node:util';
import { z } from 'zod';
import { takeFiguresSchema } from '../../shared/bridge/index.ts';
import { tellRefusal } from '../../shared/refusal-words.ts';
import { readArchive } from '../../src/main/archive/index.ts';
import { openProgram } from '../../src/main/open-program.ts';
import {
  createLibrary,
  createTakeFacts,
  createTakeStore,
  openLibrary,
  readContents,
  type TakeStore,
} from '../../src/main/store/index.ts';
import { gradeStored } from '../../src/main/takes/index.ts';
import { randomNumbers } from '../bench/long-take.ts';
import { FILLED_TAKES, makeTemplates, type Templates } from './templates.ts';
import { LONGEST_MS, type Said, type Work } from './works.ts';

/** What is promised: a note that was played this long ago is on disk. */
export const OLDEST_LOST_MS = 250;

export interface Round {
  readonly work: Work;
  readonly killedAfterMs: number;
  /** What was wrong, in words; empty when nothing was. */
  readonly faults: readonly string[];
  /** How old the oldest event was that is not on disk, at the host's last sign of life. */
  readonly oldestLostMs: number;
  /** What was played or, in whole runs, stored: events of the one, calls of the other. */
  readonly played: number;
  /** Whether what the host was at was over when it was killed. */
  readonly wasOver: boolean;
}

/** Runs rounds of works by turns, a few at a time; the same seed gives the same works and moments. */
export async function killRounds(
  works: readonly Work[],
  rounds: number,
  seed: number,
  onRound: (round: Round, done: number) => void = () => {},
): Promise<readonly Round[]> {
  const templates = await makeTemplates();
  const random = randomNumbers(seed);
  const plans = Array.from({ length: rounds }, (_, index) => {
    const work = works[index % works.length] ?? 'play';
    return { work, killAfterMs: random() * LONGEST_MS[work] };
  });
  const results: Round[] = [];
  const next = plans.values();
  async function worker(): Promise<void> {
    for (const { work, killAfterMs } of next) {
      const round = await killOnce(templates, work, killAfterMs);
      results.push(round);
      onRound(round, results.length);
    }
  }
  await Promise.all([worker(), worker()]);
  return results;
}

async function killOnce(templates: Templates, work: Work, killAfterMs: number): Promise<Round> {
  const folder = templates.folderFor(work);
  const script = join(import.meta.dirname, 'victim.ts');
  const child = spawn(process.execPath, [script, work, folder, templates.archive], {
    stdio: ['ignore', 'pipe', 'pipe'],
  });
  let output = '';
  let errors = '';
  let isTimed = false;
  child.stderr.on('data', (data: Buffer) => {
    errors += data.toString();
  });
  child.stdout.on('data', (data: Buffer) => {
    output += data.toString();
    if (isTimed || !output.includes('"ready"')) return;
    isTimed = true;
    setTimeout(() => child.kill('SIGKILL'), killAfterMs);
  });
  const signal = await new Promise((resolve) => child.on('close', (_code, sign) => resolve(sign)));
  const said = output
    .split('\n')
    .slice(0, -1)
    .map((line): Said => JSON.parse(line));
  const faults: string[] = [];
  if (signal !== 'SIGKILL') faults.push(`the host ended by itself: ${errors}`);
  const check = (what: string, isRight: boolean): void => {
    if (!isRight) faults.push(what);
  };
  const oldestLostMs = await lookAt(folder, work, said, templates, check);
  return {
    work,
    killedAfterMs: killAfterMs,
    faults,
    oldestLostMs,
    played: said.filter(({ kind }) => kind === 'played' || kind === 'stored').length,
    wasOver: said.some(({ kind }) => kind === 'did'),
  };
}

type Check = (what: string, isRight: boolean) => void;

async function lookAt(
  folder: string,
  work: Work,
  said: readonly Said[],
  { archivedIds }: Templates,
  check: Check,
): Promise<number> {
  if (work !== 'restore') checkFile(join(folder, 'library.sqlite'), check);
  await checkVisibleFiles(folder, check);
  await startAgain(folder, work, check);
  checkFile(join(folder, 'library.sqlite'), check);

  const database = openLibrary(join(folder, 'library.sqlite'));
  const takes = createTakeStore(database);
  const titles = new Set(
    createLibrary(database)
      .charts()
      .map(({ title }) => title),
  );
  for (const line of said) {
    if (line.kind === 'saved') check(`the chart ${line.title} is lost`, titles.has(line.title));
  }
  const ids = new Set(takes.list(null, 10_000).map(({ takeId }) => takeId));
  checkFigures(database, check);
  checkFacts(database, check);
  checkRuns(said, takes, check);
  const archived = archivedIds.filter((id) => ids.has(id)).length;
  if (work === 'import') {
    const isDone = said.some(({ kind }) => kind === 'did');
    check(
      `${archived} of ${archivedIds.length} takes were imported`,
      archived === archivedIds.length || (archived === 0 && !isDone),
    );
  }
  // One more was left open, one was deleted; those that were being played are not counted.
  const kept = [...ids].length - archived;
  check(`${kept} takes are left of ${FILLED_TAKES + 1}`, kept >= FILLED_TAKES + 1);
  const oldestLostMs = checkPlayed(said, database, takes, check);
  database.close();
  return oldestLostMs;
}

function checkFile(file: string, check: Check): void {
  const database = new DatabaseSync(file);
  const found = database.prepare('PRAGMA integrity_check').get()?.['integrity_check'];
  check(`${file}: ${found}`, found === 'ok');
  database.close();
}

const FACTS = `
  SELECT take_id, chart_id, plan, key, level, form, is_present, takes, once_held_bpm, due_day, f.slots, f.clean, holds, bar, b.clean
  FROM take_facts f JOIN practices USING (practice) LEFT JOIN bar_facts b USING (take) ORDER BY take_id, bar`;

/** What takes count for goes on to be counted, and is then what they come to when all are counted anew. */
function checkFacts(database: DatabaseSync, check: Check): void {
  const facts = createTakeFacts(database);
  const counted = (): string => {
    while (facts.makeSome(100) > 0);
    return JSON.stringify(database.prepare(FACTS).all());
  };
  const goneOn = counted();
  facts.forgetAll();
  check('takes are counted otherwise than they come to', goneOn === counted());
}

/** Whatever has the name of something finished is that, whole. */
async function checkVisibleFiles(folder: string, check: Check): Promise<void> {
  for (const name of namesIn(join(folder, 'backups'))) {
    if (name.startsWith('unfinished')) continue;
    const file = join(folder, 'backups', name);
    const schema = /^library-of-schema-(\d+)\.sqlite$/.exec(name)?.[1];
    if (schema === undefined)
      check(`${name} is no backup`, /^library-\d{6}-\d{8}T\d{6}Z\.sqlite$/.test(name));
    else checkOldLibrary(file, Number(schema), check);
    checkFile(file, check);
  }
  for (const name of namesIn(join(folder, 'transfer'))) {
    if (name.startsWith('unfinished-') || name.startsWith('upload-')) continue;
    try {
      const { takes } = await readArchive(join(folder, 'transfer', name));
      check(`${name} holds ${takes.length} takes`, takes.length >= FILLED_TAKES + 1);
    } catch (error) {
      check(`${name}: ${String(error)}`, false);
    }
  }
}

/** What was kept before a migration is the library as it was: of the schema its name tells, with all its takes. */
function checkOldLibrary(file: string, schema: number, check: Check): void {
  const database = new DatabaseSync(file);
  const version = database.prepare('PRAGMA user_version').get()?.['user_version'];
  check(`${file} is of schema ${version}`, version === schema);
  const takes = Number(database.prepare('SELECT COUNT(*) AS takes FROM takes').get()?.['takes']);
  check(`${file} holds ${takes} takes`, takes >= FILLED_TAKES + 1);
  database.close();
}

function namesIn(folder: string): readonly string[] {
  try {
    return readdirSync(folder);
  } catch {
    return [];
  }
}

/** The program starts again, cleans up, and has the library open, or damaged as before and nothing of it gone. */
async function startAgain(folder: string, work: Work, check: Check): Promise<void> {
  const sharedFolder = join(import.meta.dirname, '..', '..', 'shared');
  const settings = { dataFolder: folder, sharedFolder, version: '1.2.3', push: () => {} };
  const program = openProgram({ ...settings, host: 'browser' });
  if (program === null) {
    check('the folder is still locked', false);
    return;
  }
  const ask = async (name: string, request: unknown): Promise<Record<string, unknown>> => {
    const answer = await program.services(name, request, 'page');
    return answer.ok
      ? (answer.value as Record<string, unknown>)
      : { kind: tellRefusal(answer.refusal).message };
  };
  const state = await ask('library.state', {});
  if (work === 'restore') {
    const aside = namesIn(folder).filter((name) => name.startsWith('set-aside-'));
    const damaged = aside.map((name) => readFileSync(join(folder, name, 'library.sqlite')));
    if (state['kind'] === 'damaged') {
      check('nothing was restored and something set aside', aside.length === 0);
      const { name } = state['backup'] as { readonly name: string };
      await ask('library.restore', { name });
    } else {
      check('the damaged library is not set aside', damaged.length === 1);
    }
  } else check(`the library is ${state['kind']}`, state['kind'] === 'open');
  check('a take is still open', await isNoneOpen(ask));
  await program.close();
  const left = [folder, join(folder, 'backups'), join(folder, 'transfer')]
    .flatMap(namesIn)
    .filter((name) => /unfinished|incoming|upload/.test(name));
  check(`${left.join()} is left over`, left.length === 0);
}

type Ask = (name: string, request: unknown) => Promise<unknown>;

/** Whether the host has finished every take within a while, also those that were left open before. */
async function isNoneOpen(ask: Ask): Promise<boolean> {
  const list = z.array(z.object({ state: z.string() }));
  for (let look = 0; look < 400; look++) {
    const rows = list.parse(await ask('takes.list', { chartId: null, limit: 10_000 }));
    if (rows.every(({ state }) => state === 'finished')) return true;
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
  return false;
}

/** What takes come to that are the same in many rounds, as text. */
const expected = new Map<string, string>();

/** Every take has the figures of its events: those that are kept are those that are made of them now. */
function checkFigures(database: DatabaseSync, check: Check): void {
  const contents = readContents(database);
  for (const row of contents.takeRows()) {
    const take = contents.take(row);
    if (take === null) continue;
    const { takeId, events, decision, figures } = take;
    const name = JSON.stringify([takeId, events.length, decision]);
    const known =
      expected.get(name) ?? JSON.stringify(gradeStored(take.setUp, take, decision).figures);
    expected.set(name, known);
    // The oldest libraries keep no evidence beside the counts.
    const { evidence, ...counts } = figures ?? { evidence: null };
    const { evidence: graded, ...counted } = takeFiguresSchema.parse(JSON.parse(known));
    const isSame =
      isDeepStrictEqual(counts, counted) &&
      (evidence === null || isDeepStrictEqual(evidence, graded));
    check(`the figures of the take ${takeId} are not those of its events`, isSame);
  }
  check(contents.unread.join(), contents.unread.length === 0);
}

/** No take that was played is lost, nor a note of it that was stored, and none is there without one. */
function checkRuns(said: readonly Said[], takes: TakeStore, check: Check): void {
  const listed = new Set(takes.list(null, 10_000).map(({ takeId }) => takeId));
  for (const line of said) {
    if (line.kind === 'stored') {
      const isThere = listed.has(line.takeId);
      const events = isThere ? takes.get(line.takeId).events.length : 0;
      check(`${events} events are left of ${line.events}`, events >= line.events);
    } else if (line.kind === 'notKept') {
      check('a take without a note is there', !listed.has(line.takeId));
    }
  }
}

/** How old the oldest event is that was played and is not on disk. */
function checkPlayed(
  said: readonly Said[],
  database: DatabaseSync,
  takes: ReturnType<typeof createTakeStore>,
  check: Check,
): number {
  const played = said.filter((line) => line.kind === 'played');
  if (played.length === 0) return 0;
  const row = database.prepare('SELECT take_id FROM takes ORDER BY rowid DESC').all();
  const latest = row
    .map(({ take_id }) => takes.get(String(take_id)))
    .find(({ events }) => events[0]?.atMs === 0);
  const events = latest?.events ?? [];
  check(
    'the take is not what was played',
    events.every(({ atMs }, index) => atMs === index),
  );
  const lost = played.find(({ event }) => event >= events.length);
  const ageMs = lost === undefined ? 0 : workedMs(said, lost.atMs);
  check(`an event is lost that was played ${Math.round(ageMs)} ms before`, ageMs <= OLDEST_LOST_MS);
  return ageMs;
}

/** Between two signs of life lies this at most, where a host is given a processor. */
const SIGN_EVERY_MS = 10;

/** How long a host worked from a time on to its last sign of life: pauses, in which it was given no processor, are left out. */
function workedMs(said: readonly Said[], fromMs: number): number {
  let lastMs = fromMs;
  let sumMs = 0;
  for (const line of said) {
    if ((line.kind !== 'played' && line.kind !== 'alive') || line.atMs <= lastMs) continue;
    sumMs += Math.min(line.atMs - lastMs, SIGN_EVERY_MS);
    lastMs = line.atMs;
  }
  return sumMs;
}
