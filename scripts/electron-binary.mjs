// Where Electron's binary is. It is fetched at the first start; where it cannot be had, why, in a few words.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const folder = join(import.meta.dirname, '..', 'node_modules', 'electron');
const LONGEST_DOWNLOAD_MS = 5 * 60_000;

/** The path of the binary that is there, or null. */
function installed() {
  const override = process.env.ELECTRON_OVERRIDE_DIST_PATH;
  const named = join(folder, 'path.txt');
  const name = existsSync(named) ? readFileSync(named, 'utf8') : 'electron';
  const path = join(override ?? join(folder, 'dist'), name);
  return existsSync(path) ? path : null;
}

/** `{ path }`, or `{ why }` when it is not there and cannot be fetched. */
export function electronBinary() {
  const there = installed();
  if (there !== null) return { path: there };
  const fetched = spawnSync(process.execPath, [join(folder, 'install.js')], {
    encoding: 'utf8',
    timeout: LONGEST_DOWNLOAD_MS,
  });
  const path = installed();
  if (path !== null) return { path };
  const last = fetched.stderr?.trim().split('\n').at(0) ?? '';
  return { why: last === '' ? 'it could not be downloaded' : last };
}
