// Builds what is stale and starts the program: in its own window, or in the browser where Electron cannot be had.
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { buildWhenStale } from './build-when-stale.mjs';
import { electronBinary } from './electron-binary.mjs';
import { readStartOptions, usage } from './start-options.mjs';

const root = join(import.meta.dirname, '..');
/** The desktop host's code for a start that failed and has told the player why. */
const TOLD = 3;
const LATEST_FAILED_START_MS = 15_000;
/** As the other commands end that were asked for what they do not know. */
const WRONG_USAGE = 2;

const { options, files, problem } = readStartOptions(process.argv.slice(2));
if (problem !== undefined) {
  process.stderr.write(`${problem}\n`);
  process.exit(WRONG_USAGE);
}
if (options.help) {
  process.stdout.write(usage());
  process.exit(0);
}
buildWhenStale();
if (!startDesktop()) {
  if (files.length > 0) {
    process.stderr.write('Files are opened by dropping them on the page.\n');
  }
  process.argv = [...process.argv.slice(0, 2), ...(options['no-open'] ? ['--no-open'] : [])];
  await import(pathToFileURL(join(root, 'out', 'main', 'serve.cjs')).href);
}

/** Runs the desktop program until it ends; false where it cannot run. */
function startDesktop() {
  if (options.browser || options['no-open']) return false;
  const electron = electronBinary();
  if (electron.path === undefined) {
    process.stderr.write(
      `Electron is not to be had here (${electron.why}): starting in the browser instead.\n`,
    );
    return false;
  }
  const startedMs = Date.now();
  const run = spawnSync(electron.path, [join(root, 'out', 'main', 'electron.cjs'), ...files], {
    stdio: 'inherit',
  });
  if (run.status === 0 || run.status === TOLD) process.exit(run.status);
  // A program that ran for a while and then died is no reason to start another.
  if (Date.now() - startedMs > LATEST_FAILED_START_MS) process.exit(run.status ?? 1);
  const why = run.error?.message ?? `it ended with ${run.status ?? run.signal}`;
  process.stderr.write(`Electron cannot run here (${why}): starting in the browser instead.\n`);
  return false;
}
