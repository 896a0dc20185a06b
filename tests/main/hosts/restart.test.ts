/** A host that dies and is started again on its folder: the page that is open goes on, and nothing played is lost. */

import { type ChildProcess, spawn } from 'node:child_process';
import { mkdirSync, mkdtempSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { afterEach, describe, expect, test } from 'vitest';
import type { Connection } from '../../../shared/bridge/index.ts';
import type { TakeEvent } from '../../../src/core/take/model.ts';
import { startBrowserHost } from '../../../src/main/browser-host.ts';
import { browserBridge } from '../../../src/renderer/bridge/browser-bridge.ts';
import { createJournal } from '../../../src/renderer/session/journal.ts';
import { dialHost, openAddress } from '../../helpers/dial-host.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const sharedFolder = join(import.meta.dirname, '..', '..', '..', 'shared');
const running = new Set<ChildProcess>();

afterEach(() => {
  for (const child of running) child.kill('SIGKILL');
});

interface HostProcess {
  readonly url: string;
  kill(): Promise<void>;
}

function newFolders(): { readonly dataFolder: string; readonly rendererFolder: string } {
  const folder = mkdtempSync(join(tmpdir(), 'restart-'));
  const rendererFolder = join(folder, 'renderer');
  mkdirSync(rendererFolder);
  writeFileSync(join(rendererFolder, 'index.html'), '<!doctype html><title>page</title>');
  return { dataFolder: join(folder, 'data'), rendererFolder };
}

function startProcess({ dataFolder, rendererFolder }: ReturnType<typeof newFolders>) {
  const script = join(import.meta.dirname, 'run-host.ts');
  const child = spawn(process.execPath, [script, dataFolder, sharedFolder, rendererFolder], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  running.add(child);
  const closed = new Promise<void>((resolve) => child.on('close', () => resolve()));
  return new Promise<HostProcess>((resolve, reject) => {
    child.stdout.on('data', (data: Buffer) => {
      const kill = (): Promise<void> => {
        child.kill('SIGKILL');
        return closed;
      };
      resolve({ url: data.toString().trim(), kill });
    });
    child.on('close', () => reject(new Error('the host ended before it told its address')));
  });
}

/** A note in each slot, pressed and let go. */
function slot(index: number): readonly TakeEvent[] {
  const atMs = index * 500;
  return [
    { kind: 'noteOn', atMs, midi: 60 + (index % 12), velocity: 80 },
    { kind: 'noteOff', atMs: atMs + 400, midi: 60 + (index % 12) },
  ];
}

test('a host that dies at slot 33 of 48 and comes back has all 48, stopped while it was away', async () => {
  const folders = newFolders();
  const first = await startProcess(folders);
  const bridge = browserBridge(dialHost(await openAddress(first.url)));
  const connections: Connection[] = [];
  bridge.onConnection((connection) => connections.push(connection), new AbortController().signal);
  const begun = await bridge.ask('takes.begin', { setUp: setUpFor(), sources: [] });
  const takeId = begun.ok ? begun.value.takeId : '';
  const beside = { sources: [], breaks: [] };
  const journal = createJournal(
    bridge,
    takeId,
    () => beside,
    () => {},
  );

  for (let index = 0; index < 33; index++) for (const event of slot(index)) journal.add(event);
  expect(await journal.flush()).toBe(true);
  await first.kill();
  for (let index = 33; index < 48; index++) for (const event of slot(index)) journal.add(event);
  journal.stop();
  // As a run does that was stopped: it hands in until the host has everything.
  const handedIn = (async () => {
    while (!(await journal.flush())) await wait(50);
  })();
  await expect.poll(() => connections.at(-1)).toBe('gone');

  const second = await startProcess(folders);
  expect(new URL(second.url).port).toBe(new URL(first.url).port);
  await handedIn;
  expect(connections).toEqual(['connected', 'gone', 'connected']);
  expect((await bridge.ask('takes.finish', { takeId, endMs: 24_000 })).ok).toBe(true);
  const read = await bridge.ask('takes.get', { takeId });
  expect(read).toMatchObject({ ok: true, value: { row: { state: 'finished', endMs: 24_000 } } });
  expect(read.ok && read.value.events).toEqual(
    Array.from({ length: 48 }, (_, index) => slot(index)).flat(),
  );
});

describe('what a host leaves for the next one', () => {
  const settingsOf = (folders: ReturnType<typeof newFolders>) => ({
    ...{ ...folders, sharedFolder, version: '1.2.3' },
  });

  test('is no cookie, and for this user alone', async () => {
    const folders = newFolders();
    const host = await startBrowserHost(settingsOf(folders));
    const { cookie } = await openAddress(host.url);
    const file = join(folders.dataFolder, 'browser-host.json');
    const kept = readFileSync(file, 'utf8');
    expect(JSON.parse(kept)).toMatchObject({ port: Number(new URL(host.url).port) });
    expect(JSON.parse(kept).sessions).toHaveLength(1);
    expect(cookie.length).toBeGreaterThan(40);
    expect(kept).not.toContain(cookie.split('=')[1]);
    if (process.platform !== 'win32') expect(statSync(file).mode & 0o077).toBe(0);
    if (host.kind === 'started') await host.close();
  });

  test('is forgotten where another program has its port: that may have been sent the cookies', async () => {
    const folders = newFolders();
    const first = await startBrowserHost(settingsOf(folders));
    const opened = await openAddress(first.url);
    if (first.kind === 'started') await first.close();
    const port = Number(new URL(first.url).port);
    const other = createServer((socket) => socket.destroy());
    await new Promise<void>((resolve) => other.listen(port, '127.0.0.1', resolve));
    const second = await startBrowserHost(settingsOf(folders));
    const { origin } = new URL(second.url);
    expect(origin).not.toBe(opened.origin);
    expect((await fetch(origin, { headers: { cookie: opened.cookie } })).status).toBe(401);
    if (second.kind === 'started') await second.close();
    await new Promise((resolve) => other.close(resolve));
    // Nor by the one after it, on whichever port.
    const third = await startBrowserHost(settingsOf(folders));
    const again = await fetch(new URL(third.url).origin, { headers: { cookie: opened.cookie } });
    expect(again.status).toBe(401);
    if (third.kind === 'started') await third.close();
  });

  test.each(['', '{', '{"port":0,"sessions":[]}', '{"port":80,"sessions":["guess"]}'])(
    'is not needed, nor believed where it is spoilt: %s',
    async (text) => {
      const folders = newFolders();
      mkdirSync(folders.dataFolder);
      writeFileSync(join(folders.dataFolder, 'browser-host.json'), text);
      const host = await startBrowserHost(settingsOf(folders));
      const { origin, cookie } = await openAddress(host.url);
      expect((await fetch(origin, { headers: { cookie } })).status).toBe(200);
      if (host.kind === 'started') await host.close();
    },
  );
});
