/** When a page is gone: at once when it says so, else once it has not come back in time. Own rules; codes of RFC 6455. */

import { createServer, type Server } from 'node:http';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { WebSocket } from 'ws';
import { createLinks, GRACE_MS, type Links } from '../../../src/main/loopback/links.ts';

let server: Server;
let links: Links;
const left: string[] = [];

beforeEach(async () => {
  vi.useFakeTimers({ toFake: ['setTimeout', 'clearTimeout'] });
  left.length = 0;
  links = createLinks({
    ask: async (name, _request, page) => ({ ok: true, value: `${name} of ${page}` }),
    leave: (page) => left.push(page),
    silenceMs: 60_000,
  });
  server = createServer();
  server.on('upgrade', (request, connection, head) =>
    links.accept(request, connection, head, (request.url ?? '').slice(1)),
  );
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
});
afterEach(async () => {
  links.close();
  await new Promise((resolve) => server.close(resolve));
  vi.useRealTimers();
});

/** Opens a socket of a page, which has been answered once. */
async function open(page: string): Promise<WebSocket> {
  const address = server.address();
  const port = typeof address === 'object' ? address?.port : 0;
  const socket = new WebSocket(`ws://127.0.0.1:${port}/${page}`);
  await new Promise((resolve) => socket.on('open', resolve));
  socket.send(JSON.stringify({ kind: 'ask', id: 7, name: 'host.info', request: {} }));
  const told = await new Promise((resolve) => socket.once('message', (data) => resolve(`${data}`)));
  expect(JSON.parse(String(told))).toEqual({
    kind: 'answer',
    id: 7,
    answer: { ok: true, value: `host.info of ${page}` },
  });
  return socket;
}

/** Waits until the host has seen a socket end: until one of another page, opened later, was answered. */
async function end(socket: WebSocket, how: (socket: WebSocket) => void): Promise<void> {
  how(socket);
  await new Promise((resolve) => socket.on('close', resolve));
  await open(`witness-${Math.random()}`);
}

test('a page that is closed or led elsewhere has left at once', async () => {
  await end(await open('pier'), (socket) => socket.close(1001));
  expect(left).toEqual(['pier']);
});

test('a page whose socket broke off has left when it is not back in time', async () => {
  await end(await open('pier'), (socket) => socket.terminate());
  await vi.advanceTimersByTimeAsync(GRACE_MS - 1);
  expect(left).toEqual([]);
  await vi.advanceTimersByTimeAsync(1);
  expect(left).toEqual(['pier']);
});

test('a page that is back in time never left, and may leave later', async () => {
  await end(await open('pier'), (socket) => socket.terminate());
  await vi.advanceTimersByTimeAsync(GRACE_MS - 1);
  const again = await open('pier');
  await vi.advanceTimersByTimeAsync(10 * GRACE_MS);
  expect(left).toEqual([]);
  await end(again, (socket) => socket.close(1001));
  expect(left).toEqual(['pier']);
});

test('a second socket of a page takes the place of the first, which is no leaving', async () => {
  const first = await open('pier');
  const ended = new Promise((resolve) => first.on('close', resolve));
  await open('pier');
  await ended;
  await vi.advanceTimersByTimeAsync(10 * GRACE_MS);
  expect(left).toEqual([]);
});

test('the page that asked last is shown; none where none is open', async () => {
  expect(links.pushToLatest({ kind: 'front' })).toBe(false);
  const first = await open('pier');
  const second = await open('quay');
  const told: string[] = [];
  first.on('message', (data) => told.push(`pier: ${data}`));
  second.on('message', (data) => told.push(`quay: ${data}`));
  first.send(JSON.stringify({ kind: 'ask', id: 8, name: 'host.info' }));
  await expect.poll(() => told).toHaveLength(1);
  expect(links.pushToLatest({ kind: 'front' })).toBe(true);
  await expect.poll(() => told).toHaveLength(2);
  expect(told[1]).toBe('pier: {"kind":"push","push":{"kind":"front"}}');
});
