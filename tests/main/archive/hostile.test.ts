/**
 * Archives made to do harm. The kinds are those of the literature on zip files: names that lead out of a folder,
 * nothing that unfolds to very much, entries that share their bytes, sizes that lie.
 */

import { readdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { zipSync } from 'fflate';
import { expect, test } from 'vitest';
import { LIMITS, type Limits, openZip } from '../../../src/main/archive/open-zip.ts';
import { newFolder, refusalFrom } from '../../helpers/library.ts';
import { workingMs } from '../../helpers/working-time.ts';

const text = (words: string) => new TextEncoder().encode(words);

function fileOf(bytes: Uint8Array): string {
  const file = join(newFolder(), 'hostile.zip');
  writeFileSync(file, bytes);
  return file;
}

async function refused(bytes: Uint8Array, limits: Limits = LIMITS): Promise<string> {
  const { message, remedy } = await refusalFrom(() => openZip(fileOf(bytes), limits));
  expect(remedy).toMatch(/^Nothing was changed\./);
  return message;
}

/** Where the list of files begins. Source: ZIP file format specification (APPNOTE), end of central directory record. */
function listOf(zip: Uint8Array) {
  const view = new DataView(zip.buffer, zip.byteOffset, zip.byteLength);
  const end = zip.length - 22;
  expect(view.getUint32(end, true)).toBe(0x06054b50);
  const at = view.getUint32(end + 16, true);
  return { view, end, at, bytes: zip.slice(at, end) };
}

test.each([
  '../escape.json',
  '/etc/escape.json',
  'charts/../../escape.json',
  'charts\\..\\escape',
  'C:/escape',
])('the name %s is refused, and nothing is written anywhere', async (name) => {
  const file = fileOf(zipSync({ [name]: text('{}') }));
  const { message } = await refusalFrom(() => openZip(file));
  expect(message).toContain('its list of files is spoilt');
  expect(readdirSync(dirname(file))).toEqual(['hostile.zip']);
});

test('an entry that unfolds to a thousand times its size is refused before it is unfolded', async () => {
  const bomb = zipSync({ 'takes/zeros.json': new Uint8Array(64 * 2 ** 20) }, { level: 9 });
  expect(bomb.length).toBeLessThan(100_000);
  const startMs = workingMs();
  expect(await refused(bomb)).toContain('takes/zeros.json unfolds to more than 200 times');
  expect(workingMs() - startMs).toBeLessThan(1000);
});

test('sizes, one by one and together, have their limits; on the limit is allowed', async () => {
  const zip = zipSync(
    { 'a.json': new Uint8Array(100), 'b.json': new Uint8Array(100) },
    { level: 0 },
  );
  const small = { ...LIMITS, entryBytes: 100, allBytes: 200, entries: 2, archiveBytes: zip.length };
  (await openZip(fileOf(zip), small)).close();
  expect(await refused(zip, { ...small, entryBytes: 99 })).toContain('a.json is');
  expect(await refused(zip, { ...small, allBytes: 199 })).toContain('its files are');
  expect(await refused(zip, { ...small, entries: 1 })).toContain('holds 2 files');
  expect(await refused(zip, { ...small, archiveBytes: zip.length - 1 })).toContain('it is');
});

test('entries that share their bytes are refused', async () => {
  const one = zipSync({ 'aa.json': new Uint8Array(5000).fill(7) }, { level: 0 });
  const { at, bytes } = listOf(one);
  const records = Array.from({ length: 9 }, (_, index) => {
    const record = bytes.slice();
    record[46] = 'a'.charCodeAt(0) + index;
    return record;
  });
  const list = Buffer.concat(records);
  const end = one.slice(one.length - 22);
  const endView = new DataView(end.buffer);
  endView.setUint16(8, 9, true);
  endView.setUint16(10, 9, true);
  endView.setUint32(12, list.length, true);
  const overlapping = Buffer.concat([one.subarray(0, at), list, end]);
  expect(await refused(overlapping)).toContain('its files overlap');
});

test('one name twice is refused', async () => {
  const zip = zipSync({ 'aa.json': text('1'), 'ab.json': text('2') });
  const twice = Buffer.from(zip);
  for (let at = twice.indexOf('ab.json'); at >= 0; at = twice.indexOf('ab.json', at)) {
    twice.write('aa.json', at);
  }
  expect(await refused(twice)).toContain('aa.json is in it twice');
});

test('an entry that unfolds to more than it says is given up on', async () => {
  const zip = zipSync({ 'aa.json': new Uint8Array(100_000) }, { level: 9 });
  const { view, at } = listOf(zip);
  // The size unfolded, in the list and at the entry itself.
  view.setUint32(at + 24, 50, true);
  view.setUint32(22, 50, true);
  const opened = await openZip(fileOf(zip));
  const { message } = await refusalFrom(() => opened.read('aa.json'));
  expect(message).toContain('aa.json is spoilt');
  opened.close();
});

test('a bit that turned over on the disk is noticed', async () => {
  const zip = zipSync({ 'aa.json': text('a take that is long enough') }, { level: 0 });
  const at = Buffer.from(zip).indexOf('a take');
  zip[at] = (zip[at] ?? 0) ^ 1;
  const opened = await openZip(fileOf(zip));
  expect((await refusalFrom(() => opened.read('aa.json'))).message).toContain('its sum is wrong');
  opened.close();
});

test('a zip cut off anywhere is refused', async () => {
  const zip = zipSync({ 'aa.json': text('{}'), 'charts/b.chart': text('title: B') });
  for (let length = 0; length < zip.length; length += 7) {
    expect(await refused(zip.subarray(0, length))).toMatch(/no zip file|list of files is spoilt/);
  }
});
