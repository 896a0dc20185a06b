// Builds what is stale and starts the program: in its own window, or in the browser where Electron cannot be had.
// `--browser` asks for the browser host, `--no-open` too and leaves opening its address to the player.
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { buildWhenStale } from './build-when-stale.mjs';
import { electronBinary } from './electron-binary.mjs';

const root = join(import.meta.dirname, '..');
/** The desktop host's code for a start that failed and has told the player why. */
const TOLD = 3;
const LATEST_FAILED_START_MS = 15_000;

buildWhenStale();
if (!startDesktop()) {
  process.argv = process.argv.filter((word) => word !== '--browser');
  await import(pathToFileURL(join(root, 'out', 'main', 'serve.cjs')).href);
}

/** Runs the desktop program until it ends; false where it cannot run. */
function startDesktop() {
  if (process.argv.includes('--browser') || process.argv.includes('--no-open')) return false;
  const electron = electronBinary();
  if (electron.path === undefined) {
    process.stderr.write(
      `Electron is not to be had here (${electron.why}): starting in the browser instead.\n`,
    );
    return false;
  }
  const startedMs = Date.now();
  const run = spawnSync(
    electron.path,
    [join(root, 'out', 'main', 'electron.cjs'), ...process.argv.slice(2)],
    {
      stdio: 'inherit',
    },
  );
  if (run.status === 0 || run.status === TOLD) process.exit(run.status);
  // A program that ran for a while and then died is no reason to start another.
  if (Date.now() - startedMs > LATEST_FAILED_START_MS) process.exit(run.status ?? 1);
  const why = run.error?.message ?? `it ended with ${run.status ?? run.signal}`;
  process.stderr.write(`Electron cannot run here (${why}): starting in the browser instead.\n`);
  return false;
}
