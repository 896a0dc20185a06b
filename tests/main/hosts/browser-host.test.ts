/** The browser host: what it answers its own page, and what it refuses everybody else. Each guard has its test. */

import { mkdirSync, mkdtempSync, writeFileSync } from 'node:fs';
import { request as httpRequest } from 'node:http';
import { connect } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { CALLS } from '../../../shared/bridge/index.ts';
import { startBrowserHost } from '../../../src/main/browser-host.ts';
import { LARGEST_BODY_BYTES } from '../../../src/main/loopback/server.ts';
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
  slowestRequestMs: 400,
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

function ask(name: string, value: unknown, headers: Readonly<Record<string, string>> = {}) {
  return send(
    'POST',
    `/ask/${name}`,
    { cookie, 'content-type': 'application/json', ...headers },
    JSON.stringify(value),
  );
}

beforeAll(async () => {
  const started = await startBrowserHost(settings);
  if (started.kind !== 'started') throw new Error('nothing else runs on a new folder');
  host = started;
  port = Number(new URL(host.url).port);
  const { pathname, search } = new URL(host.url);
  const opened = await send('GET', pathname + search);
  cookie = String(opened.headers['set-cookie']).split(';')[0] ?? '';
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
    const begun = JSON.parse((await ask('takes.begin', { setUp: setUpFor(), sources: [] })).body);
    const { takeId } = begun.value;
    const events = [{ kind: 'noteOn', atMs: 0.5, midi: 60, velocity: 80 }];
    expect(
      JSON.parse(
        (await ask('takes.append', { takeId, from: 0, events, sources: [], breaks: [] })).body,
      ),
    ).toEqual({
      ok: true,
      value: { stored: 1 },
    });
    await ask('takes.finish', { takeId, endMs: 900, figures: null });
    const read = JSON.parse((await ask('takes.get', { takeId })).body);
    expect(read.value).toMatchObject({ events, row: { state: 'finished', endMs: 900 } });
  });

  test('is told of changes', async () => {
    const told = new Promise<string>((resolve) => {
      const request = httpRequest({ host: '127.0.0.1', port, path: '/push', headers: { cookie } });
      request.on('response', (response) => {
        response.on('data', (data: Buffer) => {
          if (!data.toString().includes('"settings"')) return;
          request.destroy();
          resolve(data.toString());
        });
        void ask('settings.set', { values: { theme: 'dark' } });
      });
      request.on('error', () => {});
      request.end();
    });
    expect(await told).toContain('data: {"kind":"changed","what":"settings"}\n\n');
  });

  test('is told of what changed just before it listened', async () => {
    const device = {
      ...{ deviceName: 'Late piano', outputName: '', latencyMs: 0, spreadMs: null },
      ...{ splitMidi: null, channel: null },
    };
    expect((await ask('devices.save', { device })).status).toBe(200);
    const told = new Promise<string>((resolve) => {
      const request = httpRequest({ host: '127.0.0.1', port, path: '/push', headers: { cookie } });
      let heard = '';
      request.on('response', (response) => {
        response.on('data', (data: Buffer) => {
          heard += data.toString();
          if (!heard.includes('"devices"')) return;
          request.destroy();
          resolve(heard);
        });
      });
      request.on('error', () => {});
      request.end();
    });
    expect(await told).toContain('data: {"kind":"changed","what":"devices"}\n\n');
  });

  test('lists every starter chart and demo take, and gets the demo it asks for', async () => {
    const charts = JSON.parse((await ask('charts.list', {})).body).value;
    expect(charts.filter((chart: { builtIn: boolean }) => chart.builtIn)).toHaveLength(18);
    const [demo] = JSON.parse((await ask('demos.list', {})).body).value;
    const bytes = JSON.parse((await ask('demos.get', { file: demo.file })).body).value.base64;
    expect(Buffer.from(bytes, 'base64').subarray(0, 4).toString()).toBe('MThd');
  });
});

describe('everybody else', () => {
  test.each([
    ['without a cookie', {}],
    ['with a cookie of its own making', { cookie: 'linekeeper=guess' }],
    ['with another cookie', { cookie: 'session=1' }],
  ])('gets nothing %s', async (_name, headers) => {
    for (const path of ['/', '/assets/app.js', '/push']) {
      expect((await send('GET', path, headers)).status).toBe(401);
    }
    const asked = await send('POST', '/ask/charts.list', {
      'content-type': 'application/json',
      ...headers,
    });
    expect(asked.status).toBe(401);
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
    const foreign = await ask('charts.list', {}, { origin: 'http://elsewhere.example' });
    expect(foreign.status).toBe(403);
    expect((await ask('charts.list', {}, { origin: 'null' })).status).toBe(403);
    expect((await ask('charts.list', {}, { origin: `http://127.0.0.1:${port}` })).status).toBe(200);
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
      expect(JSON.parse((await ask(name, {})).body).refusal.code).toBe('unknownCall');
    },
  );

  test('each refuses a request that is not of its shape, and says where', async () => {
    for (const name of Object.keys(CALLS)) {
      const answer = JSON.parse((await ask(name, { unheardOf: 1 })).body);
      expect([name, answer.refusal?.code]).toEqual([name, 'badRequest']);
    }
    const wrong = JSON.parse((await ask('takes.note', { takeId: 'x', note: 7 })).body);
    expect(wrong.refusal.message).toContain('note');
  });

  test('must be posted as JSON', async () => {
    expect((await send('GET', '/ask/charts.list', { cookie })).status).toBe(405);
    expect((await send('POST', '/ask/charts.list', { cookie }, '{}')).status).toBe(415);
    const broken = await send(
      'POST',
      '/ask/charts.list',
      { cookie, 'content-type': 'application/json' },
      '{"half":',
    );
    expect(broken.status).toBe(400);
  });

  test('are refused when they are too large', async () => {
    const answer = await send(
      'POST',
      '/ask/charts.save',
      { cookie, 'content-type': 'application/json' },
      Buffer.alloc(LARGEST_BODY_BYTES + 1, 0x20),
    );
    expect(answer.status).toBe(413);
    expect(JSON.parse(answer.body).refusal.code).toBe('tooLarge');
  });

  test('cannot change what comes with the program', async () => {
    const save = { chartId: 'built-in:lantern-walk', title: 'Mine', text: '' };
    expect(JSON.parse((await ask('charts.save', save)).body).refusal.code).toBe('notAllowed');
  });
});

describe('a request that does not come to an end', () => {
  /** Sends the beginning of a request and gives what comes back until the host hangs up. */
  function beginning(text: string): Promise<string> {
    return new Promise((resolve, reject) => {
      const socket = connect(port, '127.0.0.1', () => socket.write(text));
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
      'POST /ask/charts.list HTTP/1.1\r\nHost: OURS\r\nCookie: SESSION\r\nContent-Type: application/json\r\nContent-Length: 9\r\n\r\n{',
    ],
  ])('is hung up on %s', { timeout: 4000 }, async (_name, text) => {
    const started = text.replace('OURS', `127.0.0.1:${port}`).replace('SESSION', cookie);
    expect(await beginning(started)).toMatch(/^(HTTP\/1\.1 4\d\d|$)/);
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
