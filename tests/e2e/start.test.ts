/** `npm start`: the desktop program where Electron is to be had, the browser host elsewhere. */

import { spawn, spawnSync } from 'node:child_process';
import { chmodSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { _electron } from 'playwright';
import { describe, expect, test } from 'vitest';
import { electronBinary } from '../../scripts/electron-binary.mjs';
import { root } from './the-program.ts';

/** Runs a start with a binary of ours in Electron's place until it ends, or has printed an address. */
function startWith(
  binary: string | null,
): Promise<{ readonly said: string; readonly code: number | null }> {
  const folder = mkdtempSync(join(tmpdir(), 'electron-'));
  if (binary !== null) {
    writeFileSync(join(folder, 'electron'), binary);
    chmodSync(join(folder, 'electron'), 0o755);
  }
  const child = spawn(process.execPath, [join(root, 'scripts', 'start.mjs')], {
    env: {
      ...process.env,
      LINEKEEPER_DATA: mkdtempSync(join(tmpdir(), 'linekeeper-')),
      ELECTRON_OVERRIDE_DIST_PATH: folder,
      // No browser is opened by a test: there is no opener on this path.
      PATH: folder,
    },
  });
  let said = '';
  const listen = (data: Buffer): void => {
    said += data.toString();
    if (said.includes('http://')) child.kill('SIGTERM');
  };
  child.stdout.on('data', listen);
  child.stderr.on('data', listen);
  return new Promise((resolve) => child.on('close', (code) => resolve({ said, code })));
}

/** Runs a start that ends by itself. */
function run(...words: readonly string[]) {
  const env = { ...process.env, LINEKEEPER_DATA: '/where/it/lies' };
  const options = { env, encoding: 'utf8' } as const;
  return spawnSync(process.execPath, [join(root, 'scripts', 'start.mjs'), ...words], options);
}

describe('a start', () => {
  test.each(['--help', '-h'])('asked for %s tells its options and the data folder', (word) => {
    const { status, stdout } = run('--browser', word);
    expect(status).toBe(0);
    for (const told of ['--browser', '--no-open', '--help', 'LINEKEEPER_DATA', '/where/it/lies']) {
      expect(stdout).toContain(told);
    }
  });

  test.each(['--brwoser', '--port=80', '-x', '--no-open=yes'])(
    'with %s says that there is no such option, and starts nothing',
    (word) => {
      const { status, stdout, stderr } = run(word);
      expect([status, stdout]).toEqual([2, '']);
      expect(stderr).toContain(word.split('=')[0]);
      expect(stderr).toMatch(/npm start -- --help\n$/);
    },
  );

  test('hands over to Electron where it is', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'told-'));
    const told = join(folder, 'told');
    const { said, code } = await startWith(`#!/bin/sh\necho "$@" > ${told}\n`);
    expect(readFileSync(told, 'utf8')).toMatch(/out\/main\/electron\.cjs\n$/);
    expect(said).not.toContain('http://');
    expect(code).toBe(0);
  });

  test('ends with the code of a desktop program that has told why it cannot start', async () => {
    const { said, code } = await startWith('#!/bin/sh\nexit 3\n');
    expect(said).not.toContain('http://');
    expect(code).toBe(3);
  });

  test('says in one line that Electron cannot run, and starts in the browser', async () => {
    const { said } = await startWith('#!/bin/sh\nexit 127\n');
    expect(said).toMatch(
      /^(Building …\n)*Electron cannot run here \(it ended with 127\): starting in the browser instead\.\nLinekeeper runs/m,
    );
  });
});

const electron = electronBinary();

// Without the binary this is reported as skipped: nothing else here needs the real Electron.
describe.skipIf(electron.path === undefined)('the desktop program in the real Electron', () => {
  test('opens its window, without Node in the page, on the same library', async () => {
    const app = await _electron.launch({
      executablePath: electron.path ?? '',
      // Chromium refuses its sandbox to root; everywhere else the sandbox stays.
      args: [
        join(root, 'out', 'main', 'electron.cjs'),
        ...(process.getuid?.() === 0 ? ['--no-sandbox'] : []),
      ],
      env: { ...process.env, LINEKEEPER_DATA: mkdtempSync(join(tmpdir(), 'linekeeper-')) },
    });
    const page = await app.firstWindow();
    await page.getByRole('heading', { name: 'Linekeeper' }).waitFor();
    await page.getByRole('button', { name: 'Long Pier' }).waitFor();
    expect(
      await page.evaluate(() =>
        ['require', 'process'].map((name) => typeof Reflect.get(globalThis, name)),
      ),
    ).toEqual(['undefined', 'undefined']);
    await app.close();
  });
});
