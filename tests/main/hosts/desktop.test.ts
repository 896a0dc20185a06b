/** The desktop host's own part: window, menu, files, and what it refuses. Electron's module is stood in for. */

import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  writeFileSync,
} from 'node:fs';
import { createServer, type Server } from 'node:http';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { describe, expect, test, vi } from 'vitest';
import { z } from 'zod';
import { pushSchema } from '../../../shared/bridge/index.ts';
import { startBrowserHost } from '../../../src/main/browser-host.ts';
import { CHANNELS } from '../../../src/main/desktop/channels.ts';
import { startDesktop, TOLD_EXIT_CODE } from '../../../src/main/desktop/desktop.ts';
import { LARGEST_FILE_BYTES } from '../../../src/main/desktop/opened-files.ts';
import { joinRunningHost } from '../../../src/main/loopback/join-file.ts';
import type { DesktopFunctions } from '../../../src/renderer/bridge/desktop-bridge.ts';
import { setUpFor } from '../../helpers/set-up.ts';
import { createFakeElectron, FakeContents, type FakeOptions } from './fake-electron.ts';

const sharedFolder = join(import.meta.dirname, '..', '..', '..', 'shared');

function settingsIn(folder: string) {
  return {
    dataFolder: join(folder, 'data'),
    sharedFolder,
    rendererFolder: join(folder, 'renderer'),
    preloadFile: '/program/preload.cjs',
    version: '1.2.3',
    platform: 'linux' as NodeJS.Platform,
    argv: ['/electron', '/program/electron.js'],
    workingFolder: folder,
  };
}

function newFolder(): string {
  const folder = mkdtempSync(join(tmpdir(), 'desktop-'));
  mkdirSync(join(folder, 'renderer'));
  writeFileSync(join(folder, 'renderer', 'index.html'), '<!doctype html><title>page</title>');
  writeFileSync(join(folder, 'secret.html'), 'outside');
  return folder;
}

async function start(
  change: Partial<ReturnType<typeof settingsIn>> = {},
  options: FakeOptions = {},
  folder = newFolder(),
) {
  const electron = createFakeElectron(options);
  startDesktop(electron.parts, { ...settingsIn(folder), ...change });
  await vi.waitUntil(() => electron.windows.length === 1);
  const [window] = electron.windows;
  if (window === undefined) throw new Error('there is no window');
  return { electron, window, folder, close: () => electron.quit() };
}

function portOf(server: Server): number {
  const address = server.address();
  return typeof address === 'object' && address !== null ? address.port : 0;
}

/** An event that can be prevented, as Electron gives it. */
function preventable(fields: object) {
  const event = { ...fields, prevented: false, preventDefault: () => {} };
  event.preventDefault = () => {
    event.prevented = true;
  };
  return event;
}

interface MenuItem {
  readonly label?: string;
  readonly enabled?: boolean;
  readonly submenu?: readonly MenuItem[];
  readonly click?: () => void;
}

function menuItem(electron: ReturnType<typeof createFakeElectron>, ...labels: string[]): MenuItem {
  let items = electron.settings.get('menu') as readonly MenuItem[];
  let found: MenuItem | undefined;
  for (const label of labels) {
    found = items.find((item) => item.label === label);
    items = found?.submenu ?? [];
  }
  if (found === undefined) throw new Error(`the menu has no ${labels.join(' > ')}`);
  return found;
}

describe('the window', () => {
  test('is a sandbox, and goes on while it is behind others', async () => {
    const { window, close } = await start();
    expect(window.options['webPreferences']).toMatchObject({
      preload: '/program/preload.cjs',
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      webSecurity: true,
      webviewTag: false,
      navigateOnDragDrop: false,
      spellcheck: false,
      backgroundThrottling: false,
    });
    expect(window.url).toBe('app://linekeeper/');
    await close();
  });

  test('is shown when it is drawn, and opens where it was closed', async () => {
    const { electron, window, folder, close } = await start();
    expect(electron.log).toEqual([]);
    window.emit('ready-to-show');
    expect(electron.log).toEqual(['show']);
    window.isLarge = true;
    window.emit('close');
    await close();
    const again = await start({}, {}, folder);
    expect(again.window.options).toMatchObject({ x: 11, y: 22, width: 901, height: 602 });
    expect(again.window.isLarge).toBe(true);
    await again.close();
  });

  test('opens on a screen that is there when its own was unplugged', async () => {
    const { window, folder, close } = await start();
    window.emit('close');
    await close();
    const workAreas = [{ x: 3000, y: 0, width: 1000, height: 800 }];
    const again = await start({}, { workAreas }, folder);
    expect(again.window.options).not.toHaveProperty('x');
    await again.close();
  });

  test('opens as at first when what was kept of it is spoilt', async () => {
    const folder = newFolder();
    mkdirSync(join(folder, 'data'));
    writeFileSync(join(folder, 'data', 'desktop.json'), '{"bounds":{"x":"left"}}');
    const { window, close } = await start({}, {}, folder);
    expect(window.options).toMatchObject({ width: 1280, height: 860 });
    await close();
  });
});

describe('pages', () => {
  test('get MIDI without system-exclusive messages, and nothing else; other pages get nothing', async () => {
    const { electron, close } = await start();
    const ask = electron.settings.get('ask') as (...values: unknown[]) => void;
    const check = electron.settings.get('check') as (...values: unknown[]) => boolean;
    const device = electron.settings.get('device') as () => boolean;
    const answers = (permission: string, site: string) => {
      let asked: unknown = null;
      ask(null, permission, (granted: boolean) => (asked = granted), { requestingUrl: `${site}/` });
      return [asked, check(null, permission, site)];
    };
    expect(answers('midi', 'app://linekeeper')).toEqual([true, true]);
    expect(answers('screen-wake-lock', 'app://linekeeper')).toEqual([true, true]);
    expect(answers('screen-wake-lock', 'https://elsewhere.example')).toEqual([false, false]);
    const others =
      'midiSysex media geolocation notifications usb serial hid clipboard-read fullscreen';
    for (const permission of [...others.split(' '), 'openExternal', 'display-capture', 'unknown']) {
      expect([permission, ...answers(permission, 'app://linekeeper')]).toEqual([
        permission,
        false,
        false,
      ]);
    }
    expect(answers('midi', 'https://elsewhere.example')).toEqual([false, false]);
    expect(answers('midi', 'app://linekeeper.elsewhere')).toEqual([false, false]);
    expect(device()).toBe(false);
    await close();
  });

  test('lead nowhere, open no window, hold no other page', async () => {
    const { electron, window, close } = await start();
    expect(window.webContents.openHandler({ url: 'https://elsewhere.example/' })).toEqual({
      action: 'deny',
    });
    const away = preventable({ url: 'https://elsewhere.example/' });
    window.webContents.emit('will-navigate', away);
    const file = preventable({ url: 'file:///etc/hostname' });
    window.webContents.emit('will-navigate', file);
    const home = preventable({ url: 'app://linekeeper/' });
    window.webContents.emit('will-navigate', home);
    const view = preventable({});
    window.webContents.emit('will-attach-webview', view);
    const redirected = preventable({ url: 'https://elsewhere.example/' });
    window.webContents.emit('will-redirect', redirected);
    const frame = preventable({ url: 'https://elsewhere.example/' });
    window.webContents.emit('will-frame-navigate', frame);
    const alike = preventable({ url: 'app://linekeeper.elsewhere/' });
    window.webContents.emit('will-navigate', alike);
    const script = preventable({ url: 'javascript:alert(1)' });
    window.webContents.emit('will-navigate', script);
    const stopped = [away, file, view, redirected, frame, alike, script];
    expect(stopped.map(({ prevented }) => prevented)).toEqual(stopped.map(() => true));
    expect(home.prevented).toBe(false);
    const later = new FakeContents(electron.app);
    electron.app.emit('web-contents-created', {}, later);
    expect(later.openHandler()).toEqual({ action: 'deny' });
    await close();
  });

  test('ask nothing of the network or the disk', async () => {
    const { electron, close } = await start();
    const { filter, handler } = electron.settings.get('requests') as {
      filter: { urls: readonly string[] };
      handler: (details: object, answer: (value: unknown) => void) => void;
    };
    const schemes = filter.urls.map((url) => url.slice(0, url.indexOf(':')));
    expect(schemes.sort()).toEqual(['file', 'ftp', 'http', 'https', 'ws', 'wss']);
    let answered: unknown = null;
    handler({ url: 'https://elsewhere.example/' }, (value) => {
      answered = value;
    });
    expect(answered).toEqual({ cancel: true });
    close();
  });

  test('a frame in the page that says it listens is told nothing', async () => {
    const { electron, window, folder, close } = await start();
    writeFileSync(join(folder, 'pier.mid'), 'MThd');
    const sent: unknown[] = [];
    window.webContents.send = (_channel, value) => void sent.push(value);
    const { url } = window.webContents.mainFrame;
    electron.listens({ url });
    electron.listens(null);
    electron.app.emit('open-file', preventable({}), join(folder, 'pier.mid'));
    await vi.waitUntil(() => electron.log.length > 0);
    expect(sent).toEqual([]);
    electron.listens(window.webContents.mainFrame);
    expect(sent).toMatchObject([{ kind: 'file', name: 'pier.mid' }]);
    close();
  });

  test('get two functions from the preload, and no way to another channel', async () => {
    const { electron, close } = await start();
    expect(Object.keys(electron.preload()).sort()).toEqual(['ask', 'onPush']);
    expect(await electron.preload().ask('charts.drop', {})).toMatchObject({
      refusal: { code: 'unknownCall' },
    });
    close();
  });

  test('are served from what was built alone, with a strict policy', async () => {
    const { electron, close } = await start();
    const page = electron.settings.get('page') as (request: object) => Response;
    const get = (url: string, method = 'GET') => page({ url, method });
    const index = get('app://linekeeper/');
    expect(await index.text()).toContain('<title>page</title>');
    expect(index.headers.get('content-type')).toContain('text/html');
    const policy = index.headers.get('content-security-policy') ?? '';
    expect(policy).toContain("default-src 'self'");
    expect(policy).not.toContain('unsafe');
    for (const url of [
      'app://linekeeper/../secret.html',
      'app://linekeeper/%2e%2e/secret.html',
      'app://linekeeper/..%2fsecret.html',
      'app://elsewhere/',
      'app://linekeeper/__proto__',
    ]) {
      expect([url, get(url).status]).toEqual([url, 404]);
    }
    expect(get('app://linekeeper/', 'POST').status).toBe(405);
    await close();
  });

  test('may ask only from the window’s own frame while it shows our page', async () => {
    const { electron, window, close } = await start();
    const { mainFrame } = window.webContents;
    const ask = (frame: { url: string } | null) =>
      electron.invoke(frame, CHANNELS.ask, 'charts.list', {});
    expect(await ask(mainFrame)).toMatchObject({ ok: true });
    // A frame inside the page, a page in its place, and a frame that is gone.
    for (const frame of [{ url: mainFrame.url }, null]) {
      expect(await ask(frame)).toMatchObject({ ok: false, refusal: { code: 'notAllowed' } });
    }
    Object.assign(mainFrame, { url: 'https://elsewhere.example/' });
    expect(await ask(mainFrame)).toMatchObject({ ok: false, refusal: { code: 'notAllowed' } });
    await close();
  });
});

/** What the page hears, but for changes: the first backup is told as one, whenever it is made. */
function listen(electron: ReturnType<typeof createFakeElectron>) {
  const pushes: unknown[] = [];
  const stop = electron.preload().onPush((push) => {
    if (pushSchema.parse(push).kind !== 'changed') pushes.push(push);
  });
  return { pushes, stop };
}

describe('files', () => {
  const CHART = 'title: Cold Pier\nkey: C\nmeter: 4/4\n| Cmaj7 |\n';

  const told = (name: string, text: string) => ({
    kind: 'file',
    name,
    base64: Buffer.from(text).toString('base64'),
  });

  test('named when the program is started wait until the page listens', async () => {
    const folder = newFolder();
    writeFileSync(join(folder, 'pier.chart'), CHART);
    const argv = ['/electron', '/program/electron.js', '--flag=x.chart', 'pier.chart'];
    const { electron, close } = await start({ argv }, {}, folder);
    await vi.waitUntil(() => electron.log.length > 0);
    expect(electron.log).toEqual([`recent ${join(folder, 'pier.chart')}`]);
    expect(listen(electron).pushes).toEqual([told('pier.chart', CHART)]);
    await close();
  });

  test('come from a second start too, which brings the window to the front', async () => {
    const { electron, window, folder, close } = await start();
    writeFileSync(join(folder, 'evening.MID'), 'MThd');
    const { pushes } = listen(electron);
    window.isDown = true;
    electron.app.emit('second-instance', {}, ['/electron', 'evening.MID'], folder);
    await vi.waitUntil(() => pushes.length > 0);
    expect(pushes).toEqual([told('evening.MID', 'MThd')]);
    expect(window.isDown).toBe(false);
    expect(electron.log).toContain('focus');
    await close();
  });

  test('come from the file manager, the dialog and the list of recent ones', async () => {
    const folder = newFolder();
    const path = join(folder, 'salt & pier.chart');
    writeFileSync(path, CHART);
    const { electron, close } = await start({}, { chosenFiles: [path] }, folder);
    const { pushes } = listen(electron);
    const event = preventable({});
    electron.app.emit('open-file', event, path);
    await vi.waitUntil(() => pushes.length === 1);
    expect(event.prevented).toBe(true);
    menuItem(electron, '&File', 'Open …').click?.();
    await vi.waitUntil(() => pushes.length === 2);
    menuItem(electron, '&File', 'Open recent', 'salt && pier.chart').click?.();
    await vi.waitUntil(() => pushes.length === 3);
    expect(pushes).toEqual(Array(3).fill(told('salt & pier.chart', CHART)));
    await close();
    const again = await start({}, {}, folder);
    expect(menuItem(again.electron, '&File', 'Open recent').submenu).toHaveLength(1);
    await again.close();
  });

  test('that cannot be opened are told in words and not to the page', async () => {
    const folder = newFolder();
    const large = join(folder, 'large.mid');
    writeFileSync(large, Buffer.alloc(LARGEST_FILE_BYTES + 1));
    const { electron, close } = await start({}, {}, folder);
    const { pushes } = listen(electron);
    const inside = join(folder, 'folder.mid');
    mkdirSync(inside);
    for (const path of [
      large,
      inside,
      join(folder, 'missing.chart'),
      join(folder, 'secret.html'),
    ]) {
      electron.app.emit('open-file', preventable({}), path);
    }
    await vi.waitUntil(() => electron.errorBoxes.length === 4);
    expect(electron.errorBoxes.join('\n')).toMatch(/folder\.mid is no plain file/);
    expect(electron.errorBoxes.join('\n')).toMatch(/large\.mid is larger than 16 MiB/);
    expect(electron.errorBoxes.join('\n')).toMatch(/missing\.chart could not be read/);
    expect(electron.errorBoxes.join('\n')).toMatch(
      /opens changes, chart, linekeeper, mid, midi files/,
    );
    expect(pushes).toEqual([]);
    await close();
  });

  test('saved by the page go where the player says; one that broke off is told', async () => {
    const { electron, close } = await start();
    const item = Object.assign(new (await import('node:events')).EventEmitter(), {
      options: {},
      getFilename: () => '../../elsewhere/pier.mid',
      setSaveDialogOptions(options: object) {
        item.options = options;
      },
    });
    electron.session.emit('will-download', {}, item);
    expect(item.options).toEqual({ defaultPath: join('/documents', 'pier.mid') });
    item.emit('done', {}, 'interrupted');
    expect(electron.errorBoxes).toHaveLength(1);
    expect(electron.errorBoxes[0]).toContain('pier.mid is not saved');
    await close();
  });
});

test('a command of the menu reaches the page by its name, printing its page', async () => {
  const { electron, window, close } = await start();
  const { pushes } = listen(electron);
  menuItem(electron, '&Go', 'Charts').click?.();
  expect(pushes).toEqual([{ kind: 'command', name: 'charts' }]);
  menuItem(electron, '&File', 'Print …').click?.();
  expect(window.webContents.printed).toBe(1);
  await close();
});

test('a file handed over while the page is loaded anew waits for it, a command does not', async () => {
  const { electron, window, folder, close } = await start();
  writeFileSync(join(folder, 'pier.mid'), 'MThd');
  const first = listen(electron);
  first.stop();
  window.webContents.emit('did-start-navigation', { isMainFrame: true, isSameDocument: false });
  menuItem(electron, '&Go', 'Charts').click?.();
  electron.app.emit('open-file', preventable({}), join(folder, 'pier.mid'));
  await vi.waitUntil(() => electron.log.length > 0);
  const second = listen(electron);
  expect(first.pushes).toEqual([]);
  expect(second.pushes).toMatchObject([{ kind: 'file', name: 'pier.mid' }]);
  await close();
});

describe('the take of a page', () => {
  const elsewhere = { isMainFrame: true, isSameDocument: false };
  const note = { kind: 'noteOn', atMs: 1, midi: 60, velocity: 70 };

  async function playing(ask: DesktopFunctions['ask']) {
    const begun = await ask('takes.begin', { setUp: setUpFor(), sources: [] });
    const { takeId } = z.object({ value: z.object({ takeId: z.string() }) }).parse(begun).value;
    const batch = { takeId, from: 0, events: [note], sources: [], breaks: [] };
    return { append: () => ask('takes.append', batch), batch };
  }
  const stateOf = async (ask: DesktopFunctions['ask']) => {
    const listed = z.object({ value: z.array(z.object({ state: z.string() })) });
    const { value } = listed.parse(await ask('takes.list', { chartId: null, limit: 9 }));
    return value.map(({ state }) => state);
  };

  test.each([
    ['is loaded anew', 'did-start-navigation', elsewhere],
    ['crashes', 'render-process-gone', { reason: 'crashed' }],
    ['is closed', 'destroyed', {}],
  ])('that %s is finished at once, and the next page may play', async (_how, event, details) => {
    const { electron, window, close } = await start();
    const { ask } = electron.preload();
    const { append } = await playing(ask);
    await append();
    window.webContents.emit('did-start-navigation', { ...elsewhere, isSameDocument: true });
    window.webContents.emit('did-start-navigation', { ...elsewhere, isMainFrame: false });
    expect(await stateOf(ask)).toEqual(['recording']);
    window.webContents.emit(event, details);
    expect(await stateOf(ask)).toEqual(['finished']);
    await playing(ask);
    expect(await ask('takes.open', {})).toMatchObject({ value: { take: { isOwn: true } } });
    await close();
  });

  test('that sends its last notes while it is leaving has them, and is finished', async () => {
    const { electron, window, close } = await start();
    const { ask } = electron.preload();
    const { append, batch } = await playing(ask);
    await append();
    window.webContents.emit('did-start-navigation', elsewhere);
    await ask('takes.append', { ...batch, from: 1, events: [{ ...note, atMs: 500 }] });
    expect(await stateOf(ask)).toEqual(['recording']);
    window.webContents.emit('did-navigate', 'app://linekeeper/index.html');
    expect(await stateOf(ask)).toEqual(['finished']);
    expect(await ask('takes.get', { takeId: batch.takeId })).toMatchObject({
      value: { events: [note, { ...note, atMs: 500 }] },
    });
    await close();
  });
});

test('quitting waits until what was changed is backed up', async () => {
  const { electron, folder, close } = await start();
  const backups = join(folder, 'data', 'backups');
  const made = () =>
    existsSync(backups) ? readdirSync(backups).filter((name) => name !== 'unfinished') : [];
  await expect.poll(made, { timeout: 10_000 }).toHaveLength(1);
  const [first] = made();
  const { ask } = electron.preload();
  await ask('charts.save', { chartId: null, title: 'Cold Pier', text: 'title: Cold Pier' });
  await close();
  expect(electron.log.at(-1)).toBe('quit');
  // Of one day the last one stays.
  expect(made()).toHaveLength(1);
  expect(made()).not.toEqual([first]);
  const backup = new DatabaseSync(join(backups, made()[0] ?? ''), { readOnly: true });
  expect(backup.prepare('SELECT title FROM charts').all()).toEqual([{ title: 'Cold Pier' }]);
  backup.close();
});

test('a damaged library opens the window all the same, for its repair', async () => {
  const folder = newFolder();
  mkdirSync(join(folder, 'data'));
  writeFileSync(join(folder, 'data', 'library.sqlite'), 'no database '.repeat(50));
  const { electron, close } = await start({}, {}, folder);
  const { ask } = electron.preload();
  expect(await ask('library.state', {})).toMatchObject({
    value: { kind: 'damaged', backup: null },
  });
  expect(await ask('charts.list', {})).toMatchObject({ ok: false, refusal: { code: 'damaged' } });
  expect(await ask('library.beginNew', {})).toMatchObject({ ok: true });
  expect(await ask('charts.list', {})).toMatchObject({ ok: true });
  await close();
});

describe('a start that cannot have the library', () => {
  async function startInVain(folder: string, options: FakeOptions = {}) {
    const electron = createFakeElectron(options);
    startDesktop(electron.parts, settingsIn(folder));
    await vi.waitUntil(() => electron.log.length > 0, { timeout: 10_000 });
    expect(electron.windows).toHaveLength(0);
    return electron;
  }

  test('leaves at once when another window runs: it was handed the files', async () => {
    const electron = await startInVain(newFolder(), { isFirst: false });
    expect([electron.log, electron.errorBoxes]).toEqual([['quit'], []]);
  });

  test('opens the browser host’s page when that runs', async () => {
    const folder = newFolder();
    const browserHost = await startBrowserHost(settingsIn(folder));
    const electron = await startInVain(folder);
    await vi.waitUntil(() => electron.log.length === 2);
    expect(electron.log[0]).toMatch(/^open http:\/\/127\.0\.0\.1:\d+\/open\?token=/);
    expect(electron.log[1]).toBe('quit');
    if (browserHost.kind === 'started') await browserHost.close();
  });

  test('opens nothing that another program answers in the place of a killed host', async () => {
    const folder = newFolder();
    const dataFolder = join(folder, 'data');
    for (const url of [
      'https://elsewhere.example/open?token=x',
      'file:///etc/passwd',
      'http://127.0.0.1:1/open?token=x',
      'http://127.0.0.1:PORT/open?token=x&calc',
      'http://127.0.0.1:PORT/',
    ]) {
      const impostor = createServer((_request, response) => {
        response.end(
          JSON.stringify({ url: url.replace('PORT', String(portOf(impostor))), isShown: false }),
        );
      });
      await new Promise<void>((resolve) => impostor.listen(0, '127.0.0.1', resolve));
      mkdirSync(dataFolder, { recursive: true });
      writeFileSync(
        join(dataFolder, 'running.json'),
        JSON.stringify({ port: portOf(impostor), secret: 'old' }),
      );
      expect([url, await joinRunningHost(dataFolder, false, 1)]).toEqual([url, null]);
      await new Promise((resolve) => impostor.close(resolve));
    }
  });

  test('keeps the browser host out while the window is open', { timeout: 15_000 }, async () => {
    const { folder, close } = await start();
    await expect(startBrowserHost(settingsIn(folder))).rejects.toThrow(/its own window/);
    await close();
  });

  test('says why, and ends with the code that says it was told', async () => {
    const folder = newFolder();
    mkdirSync(join(folder, 'data'));
    const file = join(folder, 'data', 'library.sqlite');
    const newer = new DatabaseSync(file);
    newer.exec(
      'CREATE TABLE later (a TEXT); PRAGMA user_version = 999; PRAGMA application_id = 0x4c6b7072',
    );
    newer.close();
    const before = readFileSync(file);
    const electron = await startInVain(folder);
    expect(electron.log).toEqual([`exit ${TOLD_EXIT_CODE}`]);
    expect(electron.errorBoxes[0]).toMatch(/newer program.*Start the newer program/);
    expect(readFileSync(file)).toEqual(before);
  });
});
