/** One commit builds to the same bytes wherever and whenever it is built: whoever doubts a package can build it again. */

import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import {
  cpSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  utimesSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, expect, test } from 'vitest';
import { shippedPackages } from '../../scripts/licences/shipped-packages.ts';
import { root } from './the-program.ts';

/** What is built from. */
const SOURCES = [
  ...['LICENSE', 'electron.vite.config.ts', 'package-lock.json', 'package.json', 'scripts'],
  ...['shared', 'src', 'tsconfig.base.json', 'tsconfig.json', 'vite.config.ts'],
];

const above = mkdtempSync(join(tmpdir(), 'build-'));
afterAll(() => rmSync(above, { recursive: true }));

/** Copies the sources, and of the modules what is bundled: the rest only builds. */
function copyTo(folder: string): void {
  for (const name of SOURCES) cpSync(join(root, name), join(folder, name), { recursive: true });
  const lock = readFileSync(join(root, 'package-lock.json'), 'utf8');
  // Folders of a scope are copied whole.
  const bundled = new Set(shippedPackages(lock).map(({ folder }) => folder.split('/')[1]));
  mkdirSync(join(folder, 'node_modules'));
  for (const name of readdirSync(join(root, 'node_modules'))) {
    const [from, to] = [join(root, 'node_modules', name), join(folder, 'node_modules', name)];
    if (bundled.has(name)) cpSync(from, to, { recursive: true });
    else symlinkSync(from, to);
  }
}

/** Builds in a folder and gives the digest of every file, by its path. */
function buildIn(folder: string, timeZone: string): Readonly<Record<string, string>> {
  for (const words of [
    ['vite/bin/vite.js', 'build', '--logLevel', 'error'],
    ['electron-vite/bin/electron-vite.js', 'build', '--logLevel', 'error'],
  ]) {
    const [tool = '', ...args] = words;
    const run = spawnSync(process.execPath, [join(folder, 'node_modules', tool), ...args], {
      cwd: folder,
      encoding: 'utf8',
      env: { ...process.env, NODE_ENV: 'production', TZ: timeZone },
    });
    if (run.status !== 0) throw new Error(run.stderr);
  }
  const files = readdirSync(join(folder, 'out'), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name));
  return Object.fromEntries(
    files.map((path) => [
      path.slice(folder.length + 1),
      createHash('sha256').update(readFileSync(path)).digest('hex'),
    ]),
  );
}

test('two builds in different folders, years and time zones are byte-equal', () => {
  const here = join(above, 'a');
  const there = join(above, 'another folder', 'with a longer name');
  for (const folder of [here, there]) copyTo(folder);
  utimesSync(join(there, 'src', 'renderer', 'main.tsx'), new Date(0), new Date(0));
  const first = buildIn(here, 'Pacific/Kiritimati');
  expect(Object.keys(first)).toEqual(
    expect.arrayContaining([
      ...['out/main/electron.cjs', 'out/main/serve.cjs', 'out/preload/preload.cjs'],
      ...['out/renderer/index.html', 'out/renderer/licences.txt'],
    ]),
  );
  expect(buildIn(there, 'America/Adak')).toEqual(first);
});
