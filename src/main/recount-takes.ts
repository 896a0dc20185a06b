/** All that is derived of takes, made anew from the notes that were played: their figures, and what progress is told from. */

import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Uncounted } from '../../shared/bridge/index.ts';
import { hostNoticeWords } from '../../shared/notice-words.ts';
import { createCommand, runCommand } from './cli/command.ts';
import { EXIT, type ExitCode } from './cli/exit.ts';
import { createProgress } from './cli/progress.ts';
import { dataFolder } from './data-folder.ts';
import { lockFolder } from './folder-lock.ts';
import { createTakeFacts, createTakeStore, libraryFile, openLibrary } from './store/index.ts';
import { gradeStored, uncounted } from './takes/index.ts';

/** Counts the library that the arguments after the script's name tell of again, and sets the exit code of the process. */
export function recountTakes(args: readonly string[]): void {
  const command = createCommand(
    'recount',
    'Counts every take of the library again, from its notes. Close Linekeeper first.',
  ).option(
    '--data <folder>',
    'the folder of the library',
    dataFolder(process.env, process.platform),
  );
  runCommand(command, args, (parsed) => recount(parsed.opts<{ readonly data: string }>().data));
}

const TAKES_AT_ONCE = 50;

function recount(folder: string): ExitCode {
  mkdirSync(folder, { recursive: true, mode: 0o700 });
  const lock = lockFolder(folder);
  if (lock === null) {
    process.stderr.write(`${folder}: Linekeeper is running on it. Close it, then count again.\n`);
    return EXIT.unreadable;
  }
  const database = openLibrary(libraryFile(folder), join(folder, 'backups'));
  try {
    const takes = createTakeStore(database);
    const ids = takes.finished();
    const progress = createProgress(process.stderr, ids.length);
    const told: Uncounted[] = [];
    for (const takeId of ids) {
      const recorded = takes.recorded(takeId);
      progress.next(recorded?.chartTitle ?? takeId);
      if (recorded === null) continue;
      const { setUp, take, decision } = recorded;
      const graded = setUp && take && gradeStored(setUp, take, decision);
      if (graded?.kind === 'graded') takes.decide(takeId, decision, graded);
      else told.push(uncounted(recorded, graded?.why ?? 'partDamaged'));
    }
    progress.end();
    const facts = createTakeFacts(database);
    facts.forgetAll();
    while (facts.makeSome(TAKES_AT_ONCE) > 0);
    process.stdout.write(`${facts.made()} of ${ids.length} takes count for progress.\n`);
    for (const one of told) process.stderr.write(`${hostNoticeWords(one)}\n`);
    return told.length === 0 ? EXIT.ok : EXIT.unreadable;
  } finally {
    database.close();
    lock.release();
  }
}
