/** One program at a time on a data folder, whatever became of the last one. Own rule. */

import { spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { lockFolder } from '../../src/main/folder-lock.ts';

test('a folder is locked once at a time, and free again when it is released', () => {
  const folder = mkdtempSync(join(tmpdir(), 'lock-'));
  const first = lockFolder(folder);
  expect(first).not.toBeNull();
  expect(lockFolder(folder)).toBeNull();
  first?.release();
  const second = lockFolder(folder);
  expect(second).not.toBeNull();
  second?.release();
});

test('the lock of a killed program is free', async () => {
  const folder = mkdtempSync(join(tmpdir(), 'lock-'));
  const module = join(import.meta.dirname, '..', '..', 'src', 'main', 'folder-lock.ts');
  const program = `import { lockFolder } from ${JSON.stringify(module)};
    process.stdout.write(String(lockFolder(process.argv[1]) !== null));
    setInterval(() => {}, 1000);`;
  const holder = spawn(process.execPath, ['--input-type=module', '-e', program, folder], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  const held = await new Promise((resolve) => holder.stdout.once('data', resolve));
  expect(String(held)).toBe('true');
  expect(lockFolder(folder)).toBeNull();
  const ended = new Promise((resolve) => holder.on('close', resolve));
  holder.kill('SIGKILL');
  await ended;
  const free = lockFolder(folder);
  expect(free).not.toBeNull();
  free?.release();
});

test('a folder that is not there is not locked but told', () => {
  expect(() => lockFolder(join(tmpdir(), 'no', 'such', 'folder'))).toThrow(/unable to open/);
});
