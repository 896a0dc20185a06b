/** The browser host: what it answers its own page, and what it refuses everybody else. Each guard has its test. */

import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { WebSocket } from 'ws';
import {
  type Bridge,
  CALLS,
  type CallName,
  LARGEST_MESSAGE_BYTES,
  LINK_PATH,
} from '../../../shared/bridge/index.ts';
import { startBrowserHost } from '../../../src/main/browser-host.ts';
import { browserBridge } from '../../../src/renderer/bridge/browser-bridge.ts';
import { dialHost, linkAddress, type Opened, openAddress } from '../../helpers/dial-host.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const root = join(import.meta.dirname, '..', '..', '..');
const folder = mkdtempSync(join(tmpdir(), 'host-'));
const rendererFolder = join(folder, 'renderer');
mkdirSync(join(rendererFolder, 'assets'), { recursive: true });
writeFileSync(join(rendererFolder, 'index.html'), '<!doctype html><title>page</title>');
writeFileSync(join(rendererFolder, 'assets', 'app.js'), 'export {};');
writeFileSync(join(folder, 'secret.html'), 'outside the page’s folder');

const settings = {
  dataFolder: join(folder, 'data'),
  sharedFolder: join(root, 'shared'),
  rendererFolder,
  version: '0.0.0',
};

type Started = Extract<Awaited<ReturnType<typeof startBrowserHost>>, { kind: 'started' }>;
let host: Started;
let cookie = '';
let port = 0;

interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: string;
}

/** A request with every header as given, which `fetch` would not allow. */
function send(
  method: string,
  path: string,
  headers: Readonly<Record<string, string>> = {},
  body?: string | Buffer,
): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const request = httpRequest({ host: '127.0.0.1', port, method, path, headers }, (response) => {
      const chunks: Buffer[] = [];
      response.on('data', (chunk: Buffer) => chunks.push(chunk));
      response.on('end', () =>
        resolve({
          status: response.statusCode ?? 0,
          headers: response.headers,
          body: Buffer.concat(chunks).toString(),
        }),
      );
    });
    request.on('error', reject);
    request.end(body);
  });
}

let bridge: Bridge;

/** A call of the page; what the types forbid is tried too. */
async function ask(name: string, value: unknown) {
  const reply = await bridge.ask(name as CallName, value as never);
  return reply.ok
    ? { value: reply.value as never, refusal: null }
    : { value: null as never, ...reply };
}

/** A socket opened with every header as given; its status where it is refused, 101 where it is opened. */
function openSocket(
  headers: Readonly<Record<string, string>>,
  address = linkAddress(`http://127.0.0.1:${port}`, 'a-page-of-tests'),
): Promise<number> {
  return new Promise((resolve) => {
    const socket = new WebSocket(address, { headers });
    socket.on('open', () => {
      socket.terminate();
      resolve(101);
    });
    socket.on('unexpected-response', (_request, response) => {
      socket.terminate();
      resolve(response.statusCode ?? 0);
    });
    socket.on('error', () => {});
  });
}

beforeAll(async () => {
  const started = await startBrowserHost(settings);
  if (started.kind !== 'started') throw new Error('nothing else runs on a new folder');
  host = started;
  port = Number(new URL(host.url).port);
  const { pathname, search } = new URL(host.url);
  const opened = await send('GET', pathname + search);
  cookie = String(opened.headers['set-cookie']).split(';')[0] ?? '';
  bridge = browserBridge(dialHost({ origin: `http://127.0.0.1:${port}`, cookie }));
});
afterAll(() => host.close());

describe('its own page', () => {
  test('opens with the address printed, and the cookie cannot be read or sent by another site', async () => {
    const { pathname, search } = new URL(await freshUrl());
    const opened = await send('GET', pathname + search);
    expect(opened.status).toBe(200);
    expect(opened.body).toContain('url=/');
    expect(String(opened.headers['set-cookie'])).toMatch(/HttpOnly; SameSite=Strict/);
    expect((await send('GET', '/', { cookie })).body).toContain('<title>page</title>');
    expect((await send('GET', '/assets/app.js', { cookie })).headers['content-type']).toContain(
      'text/javascript',
    );
  });

  test('gets headers that forbid scripts and frames of others', async () => {
    const { headers } = await send('GET', '/', { cookie });
    expect(headers['content-security-policy']).toContain("default-src 'self'");
    expect(headers['content-security-policy']).not.toContain('unsafe');
    expect(headers['content-security-policy']).toContain("frame-ancestors 'none'");
    expect(headers['x-content-type-options']).toBe('nosniff');
  });

  test('is answered: a take is begun, appended to, finished and read back', async () => {
    const begun = await bridge.ask('takes.begin', { setUp: setUpFor(), sources: [] });
    const takeId = begun.ok ? begun.value.takeId : '';
    const events = [{ kind: 'noteOn', atMs: 0.5, midi: 60, velocity: 80 }] as const;
    const batch = { takeId, from: 0, events, sources: [], breaks: [] };
    expect(await bridge.ask('takes.append', batch)).toEqual({
      ok: true,
      value: { stored: 1 },
    });
    await bridge.ask('takes.finish', { takeId, endMs: 900 });
    expect(await bridge.ask('takes.get', { takeId })).toMatchObject({
      value: { events, row: { state: 'finished', endMs: 900 } },
    });
  });

  test('is told of changes, by whichever page', async () => {
    const another = browserBridge(dialHost({ origin: `http://127.0.0.1:${port}`, cookie }));
    const told = new Promise((resolve) => {
      another.onPush((push) => {
        if (push.kind === 'changed' && push.what === 'settings') resolve(push);
      }, new AbortController().signal);
    });
    expect((await another.ask('host.info', {})).ok).toBe(true);
    await ask('settings.set', { values: { theme: 'dark' } });
    expect(await told).toEqual({ kind: 'changed', what: 'settings' });
  });

  test('may ask whether its host is there', async () => {
    expect((await send('GET', LINK_PATH, { cookie })).status).toBe(204);
    expect((await send('GET', LINK_PATH)).status).toBe(401);
  });

  test('lists every starter chart and demo take, and gets the demo it asks for', async () => {
    const charts = await bridge.ask('charts.list', {});
    expect(charts.ok && charts.value.filter(({ builtIn }) => builtIn)).toHaveLength(18);
    const demos = await bridge.ask('demos.list', {});
    const file = (demos.ok && demos.value[0]?.file) || '';
    const demo = await bridge.ask('demos.get', { file });
    const bytes = Buffer.from(demo.ok ? demo.value.base64 : '', 'base64');
    expect(bytes.subarray(0, 4).toString()).toBe('MThd');
  });
});

describe('everybody else', () => {
  test.each([
    ['without a cookie', () => ({})],
    ['with a cookie of its own making', () => ({ cookie: `linekeeper-${port}=guess` })],
    ['with a good one of another port', () => ({ cookie: cookie.replace(`-${port}=`, '-1=') })],
    ['with another cookie', () => ({ cookie: 'session=1' })],
  ])('gets nothing %s', async (_name, headersNow) => {
    const headers = headersNow();
    for (const path of ['/', '/assets/app.js', LINK_PATH]) {
      expect((await send('GET', path, headers)).status).toBe(401);
    }
    expect(await openSocket({ origin: `http://127.0.0.1:${port}`, ...headers })).toBe(401);
  });

  test('cannot open with a token that is wrong or spent', async () => {
    expect((await send('GET', '/open?token=guess')).status).toBe(401);
    expect((await send('GET', '/open')).status).toBe(401);
    const { pathname, search } = new URL(await freshUrl());
    expect((await send('HEAD', pathname + search)).status).toBe(405);
    expect((await send('GET', pathname + search)).status).toBe(200);
    expect((await send('GET', pathname + search)).status).toBe(401);
  });

  test('is refused under another name for this address, also with a good cookie', async () => {
    const headers = { cookie, host: `rebound.example:${port}` };
    expect((await send('GET', '/', headers)).status).toBe(403);
    expect((await send('GET', '/', { cookie, host: `localhost:${port}` })).status).toBe(403);
  });

  test('is refused from another origin, also with a good cookie', async () => {
    const own = `http://127.0.0.1:${port}`;
    for (const origin of ['http://elsewhere.example', 'null', 'http://127.0.0.1:1', `${own}.x`]) {
      expect([origin, await openSocket({ cookie, origin })]).toEqual([origin, 403]);
    }
    // A page names its origin whenever it opens a socket: whoever names none is none.
    expect(await openSocket({ cookie })).toBe(403);
    expect(await openSocket({ cookie, origin: own })).toBe(101);
    expect((await send('GET', '/', { cookie, origin: 'http://elsewhere.example' })).status).toBe(
      403,
    );
  });

  test('opens no socket under another name for this address, at another place, or of no page', async () => {
    const origin = `http://127.0.0.1:${port}`;
    const headers = { cookie, origin };
    expect(await openSocket({ ...headers, host: `rebound.example:${port}` })).toBe(403);
    const address = linkAddress(origin, 'a-page-of-tests');
    expect(await openSocket(headers, address.replace(LINK_PATH, '/'))).toBe(400);
    for (const page of ['', 'short', 'with blank in it', 'x'.repeat(65), '../../../../etc']) {
      expect([page, await openSocket(headers, linkAddress(origin, page))]).toEqual([page, 400]);
    }
  });

  test.each([
    '/../secret.html',
    '/%2e%2e/secret.html',
    '/assets/../../secret.html',
    '/assets/..%2f..%2fsecret.html',
    '//secret.html',
    '/__proto__',
    '/constructor',
  ])('finds nothing at %s', async (path) => {
    const { status, body } = await send('GET', path, { cookie });
    expect(status).toBe(404);
    expect(body).not.toContain('outside');
  });

  test('cannot join without the secret', async () => {
    expect((await send('POST', '/join')).status).toBe(403);
    expect((await send('POST', '/join', { 'x-linekeeper-join': 'guess' })).status).toBe(403);
  });
});

test('an address that cannot be read is refused and the host lives on', async () => {
  expect((await send('GET', 'http://[half', { cookie })).status).toBeGreaterThanOrEqual(400);
  expect((await send('GET', '/', { cookie })).status).toBe(200);
});

describe('calls', () => {
  test.each(['toString', '__proto__', 'constructor', 'charts', 'charts.drop'])(
    'there is none named %s',
    async (name) => {
      expect((await ask(name, {})).refusal?.code).toBe('unknownCall');
    },
  );

  test('each refuses a request that is not of its shape, and says where', async () => {
    for (const name of Object.keys(CALLS)) {
      const { refusal } = await ask(name, { unheardOf: 1 });
      expect([name, refusal?.code]).toEqual([name, 'badRequest']);
    }
    const wrong = await ask('takes.note', { takeId: 'x', note: 7 });
    expect(JSON.stringify(wrong.refusal)).toContain('note');
  });

  test('are made over a socket alone', async () => {
    const headers = { cookie, 'content-type': 'application/json' };
    expect((await send('GET', '/ask/charts.list', headers)).status).toBe(404);
    expect((await send('POST', '/ask/charts.list', headers, '{}')).status).toBe(405);
    expect((await send('POST', LINK_PATH, headers, '{}')).status).toBe(405);
  });

  test('are refused by the page itself when they are too large', async () => {
    const text = 'ö'.repeat(LARGEST_MESSAGE_BYTES / 2);
    expect((await ask('takes.note', { takeId: 'x', note: text })).refusal?.code).toBe('tooLarge');
    expect((await ask('host.info', {})).refusal).toBeNull();
  });

  test('cannot change what comes with the program', async () => {
    const save = { chartId: 'built-in:lantern-walk', title: 'Mine', text: '' };
    expect((await ask('charts.save', save)).refusal?.code).toBe('notAllowed');
  });
});

describe('a request that does not come to an end', () => {
  /** A host of little patience, which a page on a busy machine would not have either. */
  let hasty: Started;
  let opened: Opened;
  beforeAll(async () => {
    const dataFolder = join(folder, 'hasty');
    const started = await startBrowserHost({ ...settings, dataFolder, slowestRequestMs: 400 });
    if (started.kind !== 'started') throw new Error('nothing else runs on a new folder');
    hasty = started;
    opened = await openAddress(hasty.url);
  });
  afterAll(() => hasty.close());

  /** Sends the beginning of a request and gives what comes back until the host hangs up. */
  function beginning(hastyPort: string, text: string): Promise<string> {
    return new Promise((resolve, reject) => {
      const socket = connect(Number(hastyPort), '127.0.0.1', () => socket.write(text));
      let heard = '';
      socket.on('data', (data) => {
        heard += data.toString();
      });
      socket.on('close', () => resolve(heard));
      socket.on('error', reject);
    });
  }

  test.each([
    ['in its head', 'GET / HTTP/1.1\r\nHost: OURS\r\n'],
    [
      'in its body',
      'POST / HTTP/1.1\r\nHost: OURS\r\nCookie: SESSION\r\nContent-Length: 9\r\n\r\n{',
    ],
    [
      'before it says whether it wants a socket',
      'GET /link HTTP/1.1\r\nHost: OURS\r\nCookie: SESSION\r\nUpgrade: websocket\r\n',
    ],
  ])('is hung up on %s', { timeout: 4000 }, async (_name, text) => {
    const { host: ours, port: hastyPort } = new URL(opened.origin);
    const started = text.replace('OURS', ours).replace('SESSION', opened.cookie);
    expect(await beginning(hastyPort, started)).toMatch(/^(HTTP\/1\.1 4\d\d|$)/);
  });
});

describe('a second start', () => {
  test('joins the running one with an address of its own', async () => {
    const joined = await startBrowserHost(settings);
    expect(joined.kind).toBe('joined');
    expect(new URL(joined.url).port).toBe(String(port));
    expect(joined.url).not.toBe(host.url);
  });

  test('joins also when both start at once', async () => {
    const both = { ...settings, dataFolder: join(folder, 'at-once') };
    const started = await Promise.all([startBrowserHost(both), startBrowserHost(both)]);
    expect(started.map(({ kind }) => kind).sort()).toEqual(['joined', 'started']);
    for (const one of started) if (one.kind === 'started') await one.close();
  });

  test('is a first one again after the host was closed', async () => {
    const again = { ...settings, dataFolder: join(folder, 'again') };
    for (let round = 0; round < 2; round++) {
      const started = await startBrowserHost(again);
      expect(started.kind).toBe('started');
      if (started.kind === 'started') await started.close();
    }
  });

  test('takes over what a killed one left behind', async () => {
    const dataFolder = join(folder, 'left-behind');
    mkdirSync(dataFolder);
    writeFileSync(join(dataFolder, 'running.json'), JSON.stringify({ port: 1, secret: 'old' }));
    const started = await startBrowserHost({ ...settings, dataFolder });
    expect(started.kind).toBe('started');
    if (started.kind === 'started') await started.close();
  });
});

async function freshUrl(): Promise<string> {
  return (await startBrowserHost(settings)).url;
}
