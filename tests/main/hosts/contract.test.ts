/**
 * One contract for both hosts, asked through the page's own client of each: a socket on the loopback address, and the preload of the
 * desktop with Electron's module stood in for.
 */

import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test, vi } from 'vitest';
import type { Bridge, CallName, Push } from '../../../shared/bridge/index.ts';
import { tellRefusal } from '../../../shared/refusal-words.ts';
import { startBrowserHost } from '../../../src/main/browser-host.ts';
import { startDesktop } from '../../../src/main/desktop/desktop.ts';
import { browserBridge } from '../../../src/renderer/bridge/browser-bridge.ts';
import { desktopBridge } from '../../../src/renderer/bridge/desktop-bridge.ts';
import { fetchArchive, sendArchive } from '../../../src/renderer/library/archive-transfer.ts';
import { dialHost, openAddress } from '../../helpers/dial-host.ts';
import { setUpFor } from '../../helpers/set-up.ts';
import { createFakeElectron } from './fake-electron.ts';

const sharedFolder = join(import.meta.dirname, '..', '..', '..', 'shared');

function folders() {
  const folder = mkdtempSync(join(tmpdir(), 'contract-'));
  const rendererFolder = join(folder, 'renderer');
  mkdirSync(rendererFolder);
  writeFileSync(join(rendererFolder, 'index.html'), '<!doctype html><title>page</title>');
  return { dataFolder: join(folder, 'data'), sharedFolder, rendererFolder, version: '1.2.3' };
}

interface Opened {
  readonly bridge: Bridge;
  close(): Promise<void>;
}

async function openBrowserHost(): Promise<Opened> {
  const host = await startBrowserHost(folders());
  if (host.kind !== 'started') throw new Error('nothing else runs on a new folder');
  const bridge = browserBridge(dialHost(await openAddress(host.url)));
  return { bridge, close: () => host.close() };
}

async function openDesktopHost(): Promise<Opened> {
  const electron = createFakeElectron();
  startDesktop(electron.parts, {
    ...folders(),
    preloadFile: 'preload.cjs',
    platform: 'linux',
    argv: [],
    workingFolder: '/',
  });
  await vi.waitUntil(() => electron.windows.length === 1);
  return {
    bridge: desktopBridge(electron.preload()),
    close: () => electron.quit(),
  };
}

const HOSTS = [
  ['browser', openBrowserHost],
  ['electron', openDesktopHost],
] as const;

describe.each(HOSTS)('the %s host', (name, open) => {
  let host: Opened;
  beforeAll(async () => {
    host = await open();
  });
  afterAll(() => host.close());

  async function ask<Name extends CallName>(...call: Parameters<typeof host.bridge.ask<Name>>) {
    const reply = await host.bridge.ask<Name>(...call);
    if (!reply.ok) throw new Error(`${reply.refusal.code}: ${tellRefusal(reply.refusal).message}`);
    return reply.value;
  }

  async function refusalOf(callName: string, request: unknown) {
    // What the types forbid is just what is tried here.
    const reply = await host.bridge.ask(callName as CallName, request as never);
    if (reply.ok) throw new Error(`${callName} was answered`);
    return reply.refusal;
  }

  test('says what it is', async () => {
    expect(await ask('host.info', {})).toEqual({ host: name, version: '1.2.3', notices: [] });
  });

  test('gives back a take as it was played, events sent twice counted once', async () => {
    const { takeId } = await ask('takes.begin', { setUp: setUpFor(), sources: [] });
    const events = [
      { kind: 'noteOn', atMs: -12.345, midi: 60, velocity: 80 },
      { kind: 'pedal', atMs: 3, down: true },
      { kind: 'noteOff', atMs: 480.001, midi: 60, source: 1 },
      { kind: 'allOff', atMs: 480.002, cause: 'disconnect' },
    ] as const;
    const beside = {
      sources: [{ name: 'Piano', latencyMs: 12.5, splitMidi: 59 }],
      breaks: [{ fromMs: 300, toMs: 450.5 }],
    };
    const first = { takeId, from: 0, events: events.slice(0, 2), ...beside, breaks: [] };
    expect(await ask('takes.append', first)).toEqual({ stored: 2 });
    expect(await ask('takes.append', { takeId, from: 0, events, ...beside })).toEqual({
      stored: 4,
    });
    const [running] = await ask('takes.list', { chartId: null, limit: 1 });
    expect(running).toMatchObject({ takeId, state: 'recording' });
    expect(await ask('takes.open', {})).toMatchObject({ take: { takeId, isOwn: true } });
    expect(await ask('takes.finish', { takeId, endMs: 481.5 })).toEqual({ kept: true });
    expect(await ask('takes.open', {})).toEqual({ take: null });
    const record = await ask('takes.get', { takeId });
    expect(record.events).toEqual(events);
    expect(record).toMatchObject({ ...beside, readings: [], decision: null });
    expect(record.setUp).toEqual(setUpFor());
    // One C on the first beat of a bar of Cmaj7.
    const figures = { slots: 1, clean: 1, changesCounted: 0, changesOnTime: 0 };
    expect(record.row).toMatchObject({ state: 'finished', endMs: 481.5, figures });
  });

  test('tells takes in short, and keeps a remark on their session until it is emptied', async () => {
    const { takeId } = await ask('takes.add', {
      setUp: setUpFor('told'),
      events: [{ kind: 'noteOn', atMs: 1, midi: 61, velocity: 70 }],
      endMs: 2500,
      sources: [],
      breaks: [],
      startedAtMs: 7000.5,
      decision: null,
    });
    const { takes } = await ask('journal.takes', { fromMs: 7000.5, toMs: 7001 });
    expect(takes).toMatchObject([{ takeId, chartId: 'told', endMs: 2500, tempoBpm: 60, slots: 1 }]);
    await ask('journal.remark', { atMs: 7000.5, text: 'Cold “quay”\n\u0000' });
    expect(await ask('journal.remarks', {})).toEqual([
      { atMs: 7000.5, day: 0, text: 'Cold “quay”\n\u0000' },
    ]);
    await ask('journal.remark', { atMs: 7000.5, text: '' });
    expect(await ask('journal.remarks', {})).toEqual([]);
    const outside = await refusalOf('journal.takes', { fromMs: -1, toMs: 1 });
    expect(outside.code).toBe('badRequest');
    await ask('takes.delete', { takeId });
    expect((await ask('journal.takes', { fromMs: 0, toMs: 8000 })).takes).toEqual([]);
  });

  test('adds a whole take, notes on it, deletes it and brings it back', async () => {
    const setUp = setUpFor('added');
    const events = [{ kind: 'noteOn', atMs: 1, midi: 61, velocity: 70 }] as const;
    const { takeId } = await ask('takes.add', {
      setUp,
      events,
      endMs: 2,
      sources: [],
      breaks: [],
      startedAtMs: 1_700_000_000_000,
      decision: null,
    });
    await ask('takes.note', { takeId, note: 'cold hands' });
    const list = () => ask('takes.list', { chartId: 'added', limit: 5 });
    expect(await list()).toMatchObject([{ takeId, note: 'cold hands', state: 'finished' }]);
    await ask('takes.delete', { takeId });
    expect(await list()).toEqual([]);
    await ask('takes.restore', { takeId });
    expect(await list()).toHaveLength(1);
  });

  test('lists its own charts beside the shipped ones, keeps those as they are, undoes a deletion', async () => {
    const { chartId } = await ask('charts.save', { chartId: null, title: 'Cold Pier', text: '?' });
    const own = async () =>
      (await ask('charts.list', {})).filter(({ builtIn }) => !builtIn).map(({ title }) => title);
    expect(await own()).toEqual(['Cold Pier']);
    await ask('charts.delete', { chartId });
    expect(await own()).toEqual([]);
    await ask('charts.restore', { chartId });
    expect(await own()).toEqual(['Cold Pier']);
    const shipped = (await ask('charts.list', {})).find(({ builtIn }) => builtIn);
    const change = { chartId: shipped?.chartId ?? '', title: 'Mine', text: '' };
    expect((await refusalOf('charts.save', change)).code).toBe('notAllowed');
  });

  test('keeps settings and devices', async () => {
    await ask('settings.set', { values: { theme: 'dark', nested: { list: [1, null] } } });
    await ask('settings.set', { values: { theme: 'light' } });
    expect(await ask('settings.get', {})).toEqual({ theme: 'light', nested: { list: [1, null] } });
    const device = {
      deviceName: 'Stage piano',
      outputName: 'speakers',
      latencyMs: 23,
      spreadMs: null,
      splitMidi: 59,
      channel: 3,
    };
    await ask('devices.save', { device });
    expect(await ask('devices.list', {})).toEqual([device]);
  });

  test('gives the demo takes it lists', async () => {
    const [demo] = await ask('demos.list', {});
    const { base64 } = await ask('demos.get', { file: demo?.file ?? '' });
    expect(Buffer.from(base64, 'base64').subarray(0, 4).toString()).toBe('MThd');
    expect((await refusalOf('demos.get', { file: '../charts/long-pier.chart' })).code).toBe(
      'notFound',
    );
  });

  test('exports the library in pieces and takes it in again, and makes a backup', async () => {
    await ask('charts.save', { chartId: null, title: 'Salt Stairs', text: 'title: Salt Stairs' });
    const fetched = await fetchArchive(host.bridge, () => {});
    if (!fetched.ok) throw new Error(tellRefusal(fetched.refusal).message);
    const file = new Blob([...fetched.pieces]);
    expect(file.size).toBe(fetched.told.bytes);
    const imported = await sendArchive(host.bridge, file, crypto.randomUUID(), () => {});
    expect(imported).toMatchObject({
      ok: true,
      value: {
        added: { charts: 0, takes: 0 },
        alreadyHere: { charts: fetched.told.charts, takes: fetched.told.takes },
        told: [],
      },
    });
    expect(fetched.told.charts).toBeGreaterThan(0);
    expect((await refusalOf('archive.import', { upload: '../library' })).code).toBe('notFound');
    expect((await refusalOf('archive.read', { name: '../library.sqlite', from: 0 })).code).toBe(
      'notFound',
    );
    expect(await ask('library.backup', {})).toEqual({});
    expect(await ask('library.state', {})).toMatchObject({ kind: 'open', problem: null });
    expect((await refusalOf('library.beginNew', {})).code).toBe('notAllowed');
  });

  test('tells of changes until the listener has enough', async () => {
    const pushes: Push[] = [];
    const enough = new AbortController();
    host.bridge.onPush((push) => {
      // The first backup is told too, whenever it is made.
      if (push.kind !== 'changed' || push.what === 'settings') pushes.push(push);
    }, enough.signal);
    await expect
      .poll(async () => {
        await ask('settings.set', { values: { told: true } });
        return pushes[0];
      })
      .toEqual({ kind: 'changed', what: 'settings' });
    enough.abort();
    await new Promise((resolve) => setTimeout(resolve, 50));
    const before = pushes.length;
    await ask('settings.set', { values: { told: false } });
    await new Promise((resolve) => setTimeout(resolve, 50));
    expect(pushes).toHaveLength(before);
  });

  test.each(['toString', '__proto__', 'constructor', 'charts.drop', ''])(
    'knows no call “%s”',
    async (callName) => {
      expect(await refusalOf(callName, {})).toMatchObject({ code: 'unknownCall' });
    },
  );

  test('refuses what has another shape, and what is not there, as values with a remedy', async () => {
    const wrong = await refusalOf('takes.get', { takeId: 'x', also: 1 });
    expect(wrong.code).toBe('badRequest');
    const missing = await refusalOf('takes.get', { takeId: 'x' });
    expect(missing).toMatchObject({ code: 'notFound' });
    expect(tellRefusal(missing).remedy).not.toBe('');
  });
});
