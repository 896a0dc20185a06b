/**
 * The browser host under attack from its own machine: other sites in the browser, other programs, other users. Each
 * guard was taken out once, to see its test fail.
 */

import {
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  statSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { connect } from 'node:net';
import { networkInterfaces, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { LARGEST_MESSAGE_BYTES, LINK_PATH } from '../../../shared/bridge/index.ts';
import { startBrowserHost } from '../../../src/main/browser-host.ts';
import { MOST_STRANGERS } from '../../../src/main/loopback/connections.ts';
import { openConnection, type RawAnswer, sendRaw } from './raw-client.ts';

const root = join(import.meta.dirname, '..', '..', '..');
const folder = mkdtempSync(join(tmpdir(), 'attack-'));
const rendererFolder = join(folder, 'renderer');
mkdirSync(join(rendererFolder, 'assets'), { recursive: true });
mkdirSync(join(folder, 'outside'));
writeFileSync(join(rendererFolder, 'index.html'), '<!doctype html><title>page</title>');
writeFileSync(join(folder, 'outside', 'secret.html'), 'outside the page’s folder');
symlinkSync(join(folder, 'outside', 'secret.html'), join(rendererFolder, 'linked.html'));
symlinkSync(join(folder, 'outside'), join(rendererFolder, 'linked'));

const SLOWEST_MS = 600;
const settings = {
  dataFolder: join(folder, 'data'),
  sharedFolder: join(root, 'shared'),
  rendererFolder,
  version: '0.0.0',
  slowestRequestMs: SLOWEST_MS,
};

type Started = Extract<Awaited<ReturnType<typeof startBrowserHost>>, { kind: 'started' }>;
let host: Started;
let port = 0;
let cookie = '';

beforeAll(async () => {
  // A planted link where the host writes how it is joined must not be written through.
  mkdirSync(join(folder, 'planted'));
  const started = await startBrowserHost(settings);
  if (started.kind !== 'started') throw new Error('nothing else runs on a new folder');
  host = started;
  const { port: own, pathname, search } = new URL(host.url);
  port = Number(own);
  const opened = await sendRaw(port, get(pathname + search, 'Connection: close\r\n'));
  cookie = /set-cookie: ([^;]+)/i.exec(opened.heard)?.[1] ?? '';
});
afterAll(() => host.close());

function get(path: string, more = ''): string {
  return `GET ${path} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n${more}\r\n`;
}

/** The head of a request with a good cookie and a body; `more` says how long that is. */
function post(more: string): string {
  return `POST ${LINK_PATH} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nCookie: ${cookie}\r\n${more}\r\n`;
}

/** The head by which a page opens a socket, with a good cookie. Source: RFC 6455, section 4.1. */
function upgrade(page = 'a-page-of-tests'): string {
  const asked = `Origin: http://127.0.0.1:${port}\r\nUpgrade: websocket\r\nConnection: Upgrade\r\n`;
  const key = 'Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==\r\nSec-WebSocket-Version: 13\r\n';
  return get(`${LINK_PATH}?page=${page}`, `Cookie: ${cookie}\r\n${asked}${key}`);
}

/** The head of a frame of a text, masked with zeros, which leave it as it is. Source: RFC 6455, section 5.2. */
function frameHead(bytes: number): Buffer {
  const head = Buffer.alloc(14);
  head.writeUInt8(0x81);
  head.writeUInt8(0x80 | 127, 1);
  head.writeBigUInt64BE(BigInt(bytes), 2);
  return head;
}

/** Opens a socket as a page does, sends bytes over it, and gives what came back until the host hung up. */
async function overSocket(bytes: Buffer, patienceMs = 5000): Promise<RawAnswer> {
  return sendRaw(port, Buffer.concat([Buffer.from(upgrade()), bytes]), patienceMs);
}

/** The code in the closing frame that ends what was heard. */
function closeCode(heard: string): number {
  const at = heard.lastIndexOf('\x88');
  return Buffer.from(heard, 'latin1').readUInt16BE(at + 2);
}

const OWN = (): string => `Cookie: ${cookie}\r\nConnection: close\r\n`;

function statuses(heard: string): readonly number[] {
  return [...heard.matchAll(/HTTP\/1\.1 (\d{3})/gu)].map(([, status]) => Number(status));
}

async function isPageThere(): Promise<boolean> {
  return (await sendRaw(port, get('/', OWN()))).heard.includes('<title>page</title>');
}

describe('names and origins', () => {
  test.each([
    ['a good name before a foreign one', 'Host: OURS\r\nHost: rebound.example\r\n'],
    ['a foreign name before a good one', 'Host: rebound.example\r\nHost: OURS\r\n'],
    ['no name', ''],
    ['a name with the port of another', 'Host: 127.0.0.1:1\r\n'],
    ['a name with a user before it', 'Host: x@OURS\r\n'],
    ['a good name and a foreign origin', 'Host: OURS\r\nOrigin: http://127.0.0.1:1\r\n'],
    [
      'a good name and an origin that only begins like ours',
      'Host: OURS\r\nOrigin: http://OURS.rebound.example\r\n',
    ],
  ])('%s: refused, with a good cookie', async (_name, head) => {
    const named = head.replaceAll('OURS', `127.0.0.1:${port}`);
    const { heard } = await sendRaw(port, `GET / HTTP/1.1\r\n${named}${OWN()}\r\n`);
    expect([400, 403]).toContain(statuses(heard)[0]);
    expect(heard).not.toContain('<title>page');
  });

  test('a request for another host through this one is refused', async () => {
    const proxied = `GET http://rebound.example/ HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n${OWN()}\r\n`;
    expect(statuses((await sendRaw(port, proxied)).heard)).toEqual([400]);
    const tunnel = `CONNECT rebound.example:443 HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n${OWN()}\r\n`;
    expect((await sendRaw(port, tunnel)).heard).not.toContain('200');
  });

  test('nobody is answered but on the loopback address', async () => {
    const others = Object.values(networkInterfaces())
      .flatMap((addresses) => addresses ?? [])
      .filter(({ internal, family }) => !internal && family === 'IPv4')
      .map(({ address }) => address);
    // 127.0.0.2 is this machine too, and there on Linux whatever its network.
    for (const address of [...others, '127.0.0.2']) {
      const isOpen = await new Promise<boolean>((resolve) => {
        const socket = connect(port, address, () => resolve(true));
        socket.on('error', () => resolve(false));
        socket.setTimeout(1000, () => resolve(false));
        socket.on('close', () => socket.destroy());
      });
      expect([address, isOpen]).toEqual([address, false]);
    }
  });
});

describe('paths', () => {
  test.each([
    '/../outside/secret.html',
    '/..%2foutside%2fsecret.html',
    '/%252e%252e/outside/secret.html',
    '/..%255coutside%255csecret.html',
    '/..\\outside\\secret.html',
    '/assets/..%5c..%5coutside%5csecret.html',
    '/%00/../outside/secret.html',
    '/index.html%00.js',
    '/./.././../outside/secret.html',
    '/linked.html',
    '/linked/secret.html',
    '/file:///etc/passwd',
  ])('nothing of another folder is at %s', async (path) => {
    const { heard } = await sendRaw(port, get(path, OWN()));
    expect(statuses(heard)).toEqual([404]);
    expect(heard).not.toContain('outside the page');
  });

  test('a NUL in the path ends the connection', async () => {
    const { heard, isHungUp } = await sendRaw(port, get('/\0/index.html', OWN()));
    expect([statuses(heard), isHungUp]).toEqual([[400], true]);
  });

  test('a link planted where the host tells how it is joined is replaced, not followed', async () => {
    const dataFolder = join(folder, 'planted');
    const victim = join(folder, 'victim');
    writeFileSync(victim, 'as it was');
    symlinkSync(victim, join(dataFolder, 'running.json'));
    const started = await startBrowserHost({ ...settings, dataFolder });
    expect(readFileSync(victim, 'utf8')).toBe('as it was');
    if (started.kind === 'started') await started.close();
  });

  test.skipIf(process.platform === 'win32')(
    'the data folder and what joins the host are for this user alone',
    () => {
      expect(statSync(settings.dataFolder).mode & 0o077).toBe(0);
      expect(statSync(join(settings.dataFolder, 'running.json')).mode & 0o077).toBe(0);
      expect(existsSync(join(settings.dataFolder, 'library.sqlite'))).toBe(true);
    },
  );
});

describe('methods', () => {
  test.each(['POST', 'PUT', 'DELETE', 'PATCH', 'OPTIONS', 'TRACE', 'PROPFIND'])(
    '%s reads nothing and opens no socket',
    async (method) => {
      for (const path of ['/', '/index.html', LINK_PATH]) {
        const request = `${method} ${path} HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n${OWN()}Content-Length: 0\r\n\r\n`;
        const { heard } = await sendRaw(port, request);
        expect([path, statuses(heard)]).toEqual([path, [405]]);
        expect(heard).not.toContain('<title>page');
      }
      const { heard, isHungUp } = await sendRaw(port, upgrade().replace('GET', method));
      expect([statuses(heard), isHungUp]).toEqual([[405], true]);
    },
  );

  test('another method does not become a start by saying that it is one', async () => {
    const { secret } = JSON.parse(readFileSync(join(settings.dataFolder, 'running.json'), 'utf8'));
    const joining = `/join HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nX-Linekeeper-Join: ${secret}\r\nX-HTTP-Method-Override: POST\r\nConnection: close\r\nContent-Length: 0\r\n\r\n`;
    expect(statuses((await sendRaw(port, `GET ${joining}`)).heard)).toEqual([403]);
    expect(statuses((await sendRaw(port, `POST ${joining}`)).heard)).toEqual([200]);
  });

  test.each([
    'application/json',
    'text/plain',
    'application/x-www-form-urlencoded',
    'multipart/form-data',
  ])('a call posted as %s, as a form of another site can, is refused', async (type) => {
    const head = post(`Content-Type: ${type}\r\nContent-Length: 2\r\n`);
    for (const request of [head, head.replace(LINK_PATH, '/ask/charts.list')]) {
      const { heard, isHungUp } = await sendRaw(port, `${request}{}`);
      expect([statuses(heard), isHungUp]).toEqual([[405], true]);
    }
  });
});

describe('a socket', () => {
  test('is not opened for another protocol or version, and the connection ends', async () => {
    for (const [own, other] of [
      ['Upgrade: websocket', 'Upgrade: h2c'],
      ['Sec-WebSocket-Version: 13', 'Sec-WebSocket-Version: 7'],
      ['Sec-WebSocket-Key: dGhlIHNhbXBsZSBub25jZQ==', 'Sec-WebSocket-Key: short'],
    ] as const) {
      const { heard, isHungUp } = await sendRaw(port, upgrade().replace(own, other));
      expect([other, statuses(heard)[0], isHungUp]).toEqual([other, expect.any(Number), true]);
      expect(statuses(heard)[0]).toBeGreaterThanOrEqual(400);
    }
  });

  test('ends with what is no message of a page', async () => {
    for (const text of [
      '{"half":',
      '[]',
      '{"kind":"ask"}',
      '{"kind":"ask","id":-1,"name":"x"}',
      '{"kind":"ask","id":0,"name":"charts.list","request":{},"page":"another"}',
    ]) {
      const message = Buffer.from(text);
      const { heard, isHungUp } = await overSocket(
        Buffer.concat([frameHead(message.length), message]),
        8000,
      );
      expect([text, statuses(heard), isHungUp]).toEqual([text, [101], true]);
      expect(closeCode(heard)).toBe(1003);
    }
  });

  test('ends with frames that no browser sends, and the host stays', async () => {
    for (const bytes of [
      [0x81, 0x01, 0x61], // not masked
      [0xf1, 0x80, 0, 0, 0, 0], // of an extension that was not agreed on
      [0x83, 0x80, 0, 0, 0, 0], // of an unknown kind
      [0x81, 0x81, 0, 0, 0, 0, 0xff], // no text
    ]) {
      const { heard, isHungUp } = await overSocket(Buffer.from(bytes), 8000);
      expect([bytes, statuses(heard), isHungUp]).toEqual([bytes, [101], true]);
    }
    expect(await isPageThere()).toBe(true);
  });
});

describe('two requests in one', () => {
  const smuggled = (): string => get('/smuggled', OWN());

  test.each([
    ['a length and chunks', 'Content-Length: 4\r\nTransfer-Encoding: chunked\r\n'],
    ['two lengths', 'Content-Length: 2\r\nContent-Length: 40\r\n'],
    ['chunks by another name', 'Transfer-Encoding: xchunked\r\n'],
    ['chunks twice removed', 'Transfer-Encoding: chunked, identity\r\n'],
    ['a length that is no number', 'Content-Length: +2\r\n'],
    ['a header with a blank before its colon', 'Content-Length : 2\r\n'],
    ['a line folded', 'X-One: a\r\n Content-Length: 2\r\n'],
    ['a line ended by half a line end', 'X-One: a\nContent-Length: 2\r\n'],
  ])('%s: refused, and nothing after it is read', async (_name, head) => {
    const { heard, isHungUp } = await sendRaw(port, `${post(head)}{}\r\n0\r\n\r\n${smuggled()}`);
    // 405 where the head can be read: the body then is not.
    expect([statuses(heard), isHungUp]).toEqual([[expect.toBeOneOf([400, 405])], true]);
  });

  test('what comes after a request that is refused is not read', async () => {
    const stranger = `POST / HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\nContent-Length: 0\r\n\r\n`;
    const { heard, isHungUp } = await sendRaw(port, stranger + get('/', OWN()));
    expect([statuses(heard), isHungUp]).toEqual([[401], true]);
  });

  test('junk of other protocols is refused', async () => {
    for (const junk of [
      '\x16\x03\x01\x02\x00\x01\x00',
      'PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n',
      'EHLO x\r\n',
      `${'\r\n'.repeat(9)}GET\r\n\r\n`,
    ]) {
      const { heard } = await sendRaw(port, junk);
      expect(statuses(heard).filter((status) => status < 400)).toEqual([]);
    }
    expect(await isPageThere()).toBe(true);
  });
});

describe('too much', () => {
  test('a body is refused before it is sent, whatever it says of its length', async () => {
    for (const length of ['Content-Length: 999999999', 'Transfer-Encoding: chunked']) {
      const { heard, isHungUp } = await sendRaw(port, post(`${length}\r\n`));
      expect([statuses(heard), isHungUp]).toEqual([[405], true]);
    }
  });

  test('a message that says it is too large is refused before it is sent', async () => {
    const { heard, isHungUp } = await overSocket(frameHead(LARGEST_MESSAGE_BYTES + 1), 8000);
    expect([statuses(heard), isHungUp, closeCode(heard)]).toEqual([[101], true, 1009]);
  });

  test('a message in pieces that never says how large it is, is refused when it is', async () => {
    const socket = await openConnection(port, upgrade());
    let heard = '';
    let sent = 0;
    socket.on('data', (data) => {
      heard += data.toString('latin1');
    });
    await expect.poll(() => heard).toContain('\r\n\r\n');
    const size = 0x100000;
    while (!socket.destroyed && !heard.includes('\x88') && sent < 2 * LARGEST_MESSAGE_BYTES) {
      const head = frameHead(size);
      // The first piece says that it is a text, none that it is the last.
      head.writeUInt8(sent === 0 ? 0x01 : 0x00);
      await new Promise((resolve) =>
        socket.write(Buffer.concat([head, Buffer.alloc(size, 0x20)]), resolve),
      );
      sent += size;
    }
    expect(sent).toBeLessThan(1.5 * LARGEST_MESSAGE_BYTES);
    socket.destroy();
    expect(await isPageThere()).toBe(true);
  });

  test('a head without end is refused', async () => {
    const { heard, isHungUp } = await sendRaw(port, get('/', `X: ${'y'.repeat(100_000)}\r\n`));
    expect([statuses(heard), isHungUp]).toEqual([[431], true]);
  });
});

describe('many at once', () => {
  test('whoever opens connections and sends nothing keeps the page from nothing', {
    timeout: 20_000,
  }, async () => {
    const idle = await Promise.all(Array.from({ length: 200 }, () => openConnection(port)));
    expect(await isPageThere()).toBe(true);
    const open = idle.filter(
      (socket) => !socket.destroyed && !socket.closed && !socket.readableEnded,
    );
    expect(open.length).toBeLessThanOrEqual(MOST_STRANGERS);
    for (const socket of idle) socket.destroy();
  });

  test('a page keeps its socket while others come and go', { timeout: 20_000 }, async () => {
    const page = await openConnection(port, upgrade());
    await new Promise<void>((resolve) => page.once('data', () => resolve()));
    const many = await Promise.all(
      Array.from({ length: 3 * MOST_STRANGERS }, () => openConnection(port, 'GET / HTTP/1.1\r\n')),
    );
    await isPageThere();
    expect(page.destroyed || page.readableEnded).toBe(false);
    for (const socket of [...many, page]) socket.destroy();
  });

  test('strangers keep no page from its socket', { timeout: 20_000 }, async () => {
    const many = await Promise.all(Array.from({ length: 200 }, () => openConnection(port)));
    const page = await openConnection(port, upgrade());
    const opened = await new Promise<string>((resolve) =>
      page.once('data', (data) => resolve(data.toString('latin1'))),
    );
    expect(statuses(opened)).toEqual([101]);
    for (const socket of [...many, page]) socket.destroy();
  });

  test('slow requests and messages are given up, each by itself, and the host stays', {
    timeout: 20_000,
  }, async () => {
    const heads = Array.from({ length: 20 }, () =>
      sendRaw(port, 'GET / HTTP/1.1\r\nHost: x\r\nX: ', 8000),
    );
    const bodies = Array.from({ length: 10 }, () =>
      sendRaw(port, `${post('Content-Length: 9\r\n')}{`, 8000),
    );
    const messages = Array.from({ length: 10 }, (_, index) =>
      sendRaw(
        port,
        Buffer.concat([Buffer.from(upgrade(`slow-page-${index}`)), frameHead(9)]),
        8000,
      ),
    );
    const ended = await Promise.all([...heads, ...bodies, ...messages]);
    expect(ended.filter(({ isHungUp }) => !isHungUp)).toEqual([]);
    expect(await isPageThere()).toBe(true);
  });

  test('a page that reads nothing of what it is told is given up', {
    timeout: 20_000,
  }, async () => {
    const page = await openConnection(port, upgrade('a-page-that-does-not-read'));
    page.pause();
    const closed = new Promise<void>((resolve) => page.on('close', () => resolve()));
    await new Promise((resolve) => setTimeout(resolve, 2 * SLOWEST_MS));
    page.resume();
    await closed;
    expect(await isPageThere()).toBe(true);
  });
});
