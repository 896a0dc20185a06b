/** Another library in the place of a damaged one: nothing deleted, whenever the program is killed on its way. */

import { mkdirSync, readdirSync, readFileSync, renameSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { finishPutInPlace, putInPlace } from '../../../../src/main/store/repair/put-in-place.ts';
import { newFolder } from '../../../helpers/library.ts';

function folderWith(files: Readonly<Record<string, string>>): string {
  const folder = newFolder();
  for (const [name, content] of Object.entries(files)) writeFileSync(join(folder, name), content);
  return folder;
}

const OLD = {
  'library.sqlite': 'old',
  'library.sqlite-wal': 'old journal',
  'library.sqlite-shm': 'x',
};

test('the old one is set aside with its journal', () => {
  const folder = folderWith(OLD);
  const aside = putInPlace(folder, 'then', (path) => writeFileSync(path, 'new'));
  expect(readdirSync(folder).sort()).toEqual(['library.sqlite', aside]);
  expect(readFileSync(join(folder, 'library.sqlite'), 'utf8')).toBe('new');
  expect(readFileSync(join(folder, aside, 'library.sqlite-wal'), 'utf8')).toBe('old journal');
});

test('two in one second are set aside apart', () => {
  const folder = folderWith(OLD);
  const first = putInPlace(folder, 'then', (path) => writeFileSync(path, 'second'));
  const second = putInPlace(folder, 'then', (path) => writeFileSync(path, 'third'));
  expect(readFileSync(join(folder, first, 'library.sqlite'), 'utf8')).toBe('old');
  expect(readFileSync(join(folder, second, 'library.sqlite'), 'utf8')).toBe('second');
});

test('one that cannot be written leaves the old one where it was', () => {
  const folder = folderWith(OLD);
  expect(() =>
    putInPlace(folder, 'then', (path) => {
      writeFileSync(path, 'half');
      throw new Error('no room');
    }),
  ).toThrow('no room');
  finishPutInPlace(folder);
  expect(readdirSync(folder).sort()).toEqual(Object.keys(OLD).sort());
});

describe('killed on its way', () => {
  // The states a kill can leave, in the order they come in.
  const states: readonly (readonly [string, (folder: string) => void])[] = [
    ['before anything left', () => {}],
    ['after the folder was made', (folder) => mkdirSync(join(folder, 'set-aside-then'))],
    ['after the journal left', (folder) => move(folder, 'library.sqlite-wal')],
    ['after its index left', (folder) => move(folder, 'library.sqlite-wal', 'library.sqlite-shm')],
    ['after all left', (folder) => move(folder, ...Object.keys(OLD))],
  ];
  function move(folder: string, ...names: readonly string[]): void {
    mkdirSync(join(folder, 'set-aside-then'), { recursive: true });
    for (const name of names) renameSync(join(folder, name), join(folder, 'set-aside-then', name));
  }

  test.each(states)('%s, the next start finishes it', (_name, reach) => {
    const folder = folderWith({ ...OLD, 'incoming-then.sqlite': 'new' });
    reach(folder);
    finishPutInPlace(folder);
    finishPutInPlace(folder);
    expect(readdirSync(folder).sort()).toEqual(['library.sqlite', 'set-aside-then']);
    expect(readFileSync(join(folder, 'library.sqlite'), 'utf8')).toBe('new');
    for (const [name, content] of Object.entries(OLD)) {
      expect(readFileSync(join(folder, 'set-aside-then', name), 'utf8')).toBe(content);
    }
  });

  test('while it was written, the old one stays', () => {
    const folder = folderWith({ ...OLD, 'incoming-unfinished': 'half' });
    finishPutInPlace(folder);
    expect(readdirSync(folder).sort()).toEqual(Object.keys(OLD).sort());
  });
});
