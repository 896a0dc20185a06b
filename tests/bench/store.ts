/** What a library of years costs: its size, the questions progress asks of it, a backup, and putting one back. */

import { execFileSync } from 'node:child_process';
import { copyFileSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { openLibrary } from '../../src/main/store/index.ts';
import { inspectLibrary } from '../../src/main/store/inspect.ts';
import { newFolder } from '../helpers/library.ts';
import { type Bench, distribution, type Figure, type Measure, ratio } from './bench.ts';
import { yardstick } from './long-file.ts';
import { ask, openServices, questionsOn } from './progress-questions.ts';
import { MANY_TAKES, makeLibrary, NOTES_A_TAKE } from './ten-years.ts';

const FEW = 400;
const NOW_MS = 1_800_000_000_000;
/** Own aims: at the store, and on screen. */
const AIM_MS = 100;
const AIM_BYTES_PER_NOTE = 12;
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
  readonly first: readonly (readonly [name: string, ms: readonly number[]])[];
  readonly answers: ReadonlyMap<string, readonly number[]>;
  readonly checkMs: number;
  readonly backupMs: number;
  readonly backupHeldMs: number;
  readonly copyMs: number;
  readonly restoreMs: number;
}

/** Each question as the first one after a start, in a process of its own. */
function askFirst(
  file: string,
  chartId: string,
  folder: string,
): readonly (readonly [string, readonly number[]])[] {
  const script = join(import.meta.dirname, 'first-question.ts');
  return questionsOn(chartId).map(([name]) => {
    const times = Array.from({ length: STARTS }, () => {
      const words = [script, file, folder, chartId, name, String(NOW_MS)];
      return Number(execFileSync(process.execPath, words, { encoding: 'utf8' }));
    });
    return [name, times];
  });
}

const RUNS = 15;
const STARTS = 5;

async function look(takes: number): Promise<Library> {
  const folder = newFolder();
  const { file, chartId } = makeLibrary(folder, takes, NOW_MS);
  const bytes = statSync(file).size;
  const check = await timed(() => inspectLibrary(file));
  const first = askFirst(file, chartId, folder);
  const opened = openServices(file, folder, NOW_MS);
  const answers = new Map<string, readonly number[]>();
  for (const [name, call, request] of questionsOn(chartId)) {
    await ask(opened, call, request);
    const times: number[] = [];
    for (let run = 0; run < RUNS; run++) times.push(await ask(opened, call, request));
    answers.set(name, times);
  }
  const backup = await timed(() => opened.services('library.backup', {}, 'page'));
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
    ...{ takes, bytes, first, answers, checkMs: check.ms, copyMs: copy.ms },
    ...{ backupMs: backup.ms, backupHeldMs: backup.heldMs, restoreMs: restore.ms },
  };
}

function questions(few: Library, many: Library): Measure {
  const figuresOf = (name: string): readonly Figure[] => {
    const spread = distribution(`${name}, ${MANY_TAKES} takes`, 'ms', many.answers.get(name) ?? []);
    const short = distribution(`${name}, ${FEW} takes`, 'ms', few.answers.get(name) ?? []);
    return [
      ...[short, spread],
      ratio(`${name} against the aim`, 'ms', ['median', spread.median], ['aim', AIM_MS], 1),
    ];
  };
  return {
    name: 'what the progress screens ask, right after a start and later',
    how: `Each call through the services, its reply checked and written as JSON, ${RUNS} times in one process, and first of all in ${STARTS} processes of their own; the library has ${MANY_TAKES} takes of ${NOTES_A_TAKE} notes, and ${FEW}.`,
    figures: [
      ...many.first.map(([name, times]) => distribution(`${name}, asked first`, 'ms', times)),
      ...[...many.answers.keys()].flatMap(figuresOf),
    ],
  };
}

function keeping(many: Library): Measure {
  const perNote = ['bytes per note', many.bytes / (MANY_TAKES * NOTES_A_TAKE)] as const;
  const copy = ['copying the file', many.copyMs] as const;
  return {
    name: `keeping ${MANY_TAKES} takes`,
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
    const many = await look(MANY_TAKES);
    return [yardstick(), questions(few, many), keeping(many)];
  },
};
