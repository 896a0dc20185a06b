/** The page's side of the socket: what becomes of calls while the host goes and comes. Own rules, no outside source. */

import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import type { Connection, Push } from '../../../shared/bridge/index.ts';
import { browserBridge, LONGEST_WAIT_MS } from '../../../src/renderer/bridge/browser-bridge.ts';
import {
  LONGEST_SILENCE_MS,
  LOOK_EVERY_MS,
  type Presence,
  type Socket,
  TELL_GONE_AFTER_MS,
} from '../../../src/renderer/bridge/socket-link.ts';

interface Asked {
  readonly kind: string;
  readonly id: number;
  readonly name: string;
}

/** A socket in the hand of the test. */
class FakeSocket implements Socket {
  readonly #listeners = new Map<string, ((event: { data: unknown }) => void)[]>();
  readonly sent: Asked[] = [];
  send(text: string): void {
    this.sent.push(JSON.parse(text));
  }
  close(): void {
    this.tell('close');
  }
  addEventListener(kind: string, listener: (event: { data: unknown }) => void): void {
    this.#listeners.set(kind, [...(this.#listeners.get(kind) ?? []), listener]);
  }
  tell(kind: 'open' | 'close' | 'message', data: unknown = null): void {
    for (const listener of this.#listeners.get(kind) ?? []) listener({ data });
  }
  say(message: unknown): void {
    this.tell('message', JSON.stringify(message));
  }
  names(): readonly string[] {
    return this.sent.filter(({ kind }) => kind === 'ask').map(({ name }) => name);
  }
}

/** A bridge to a host in the hand of the test, which has told the page that it is connected. */
function dialled() {
  const sockets: FakeSocket[] = [];
  let presence: Presence = 'there';
  const bridge = browserBridge({
    openSocket() {
      const socket = new FakeSocket();
      sockets.push(socket);
      return socket;
    },
    look: async () => presence,
  });
  const connections: Connection[] = [];
  const pushes: Push[] = [];
  const { signal } = new AbortController();
  bridge.onConnection((connection) => connections.push(connection), signal);
  const socket = (): FakeSocket => {
    const last = sockets.at(-1);
    if (last === undefined) throw new Error('no socket was opened');
    return last;
  };
  return {
    ...{ bridge, connections, pushes, sockets, socket },
    listen: () => bridge.onPush((push) => pushes.push(push), signal),
    become: (next: Presence) => {
      presence = next;
    },
  };
}

const INFO = { kind: 'answer', answer: { ok: true, value: 'told' } };

beforeEach(() => void vi.useFakeTimers());
afterEach(() => void vi.useRealTimers());

describe('a call', () => {
  test('made before the socket is open is put once it is, and has its own answer', async () => {
    const { bridge, socket } = dialled();
    const first = bridge.ask('host.info', {});
    const second = bridge.ask('demos.list', {});
    expect(socket().sent).toEqual([]);
    socket().tell('open');
    expect(socket().names()).toEqual(['host.info', 'demos.list']);
    const [one, two] = socket().sent;
    socket().say({ ...INFO, id: two?.id, answer: { ok: true, value: 'second' } });
    socket().say({ ...INFO, id: one?.id, answer: { ok: true, value: 'first' } });
    expect(await first).toEqual({ ok: true, value: 'first' });
    expect(await second).toEqual({ ok: true, value: 'second' });
  });

  test('under way when the host dies is asked again once it is back, if it may be', async () => {
    const { bridge, socket, sockets } = dialled();
    socket().tell('open');
    const reading = bridge.ask('charts.list', {});
    const adding = bridge.ask('charts.add', { charts: [] });
    socket().tell('close');
    expect(await adding).toMatchObject({ ok: false, refusal: { code: 'unreachable' } });
    await vi.advanceTimersByTimeAsync(1000);
    expect(sockets).toHaveLength(2);
    socket().tell('open');
    expect(socket().names()).toEqual(['charts.list']);
    socket().say({ ...INFO, id: socket().sent[0]?.id });
    expect(await reading).toEqual({ ok: true, value: 'told' });
  });

  test('made while nobody is there waits, then is refused in words, once', async () => {
    const { bridge, socket, become } = dialled();
    socket().tell('open');
    become('gone');
    socket().tell('close');
    const settled = vi.fn();
    const asked = bridge.ask('takes.begin', { setUp: null as never, sources: [] }).then((reply) => {
      settled();
      return reply;
    });
    await vi.advanceTimersByTimeAsync(LONGEST_WAIT_MS - 1);
    expect(settled).not.toHaveBeenCalled();
    await vi.advanceTimersByTimeAsync(1);
    expect(await asked).toMatchObject({ ok: false, refusal: { code: 'unreachable' } });
    become('there');
    await vi.advanceTimersByTimeAsync(1000);
    socket().tell('open');
    expect(socket().names()).toEqual([]);
  });
});

describe('the connection', () => {
  test('is told to be gone within a second, looked for at least every second, and is back by itself', async () => {
    const { connections, socket, sockets, become } = dialled();
    socket().tell('open');
    become('gone');
    socket().tell('close');
    await vi.advanceTimersByTimeAsync(TELL_GONE_AFTER_MS - 1);
    expect(connections).toEqual(['connected']);
    await vi.advanceTimersByTimeAsync(1);
    expect(connections).toEqual(['connected', 'gone']);
    await vi.advanceTimersByTimeAsync(60_000);
    expect(sockets).toHaveLength(1);
    become('there');
    await vi.advanceTimersByTimeAsync(1000);
    expect(sockets).toHaveLength(2);
    expect(connections.at(-1)).toBe('gone');
    socket().tell('open');
    expect(connections).toEqual(['connected', 'gone', 'connected']);
  });

  test('that is back at once was never gone', async () => {
    const { connections, socket } = dialled();
    socket().tell('open');
    socket().tell('close');
    await vi.advanceTimersByTimeAsync(TELL_GONE_AFTER_MS / 2);
    socket().tell('open');
    await vi.advanceTimersByTimeAsync(TELL_GONE_AFTER_MS);
    expect(connections).toEqual(['connected']);
  });

  test('to a host that does not know this browser is told as such', async () => {
    const { connections, socket, become } = dialled();
    socket().tell('open');
    become('unknown');
    socket().tell('close');
    await vi.advanceTimersByTimeAsync(1000);
    expect(connections.at(-1)).toBe('unknown');
  });

  test('hangs when a sign of life stays out, within a second, and goes on with the first one', async () => {
    const { connections, socket } = dialled();
    socket().tell('open');
    await vi.advanceTimersByTimeAsync(2 * LOOK_EVERY_MS);
    expect(socket().sent).toEqual([{ kind: 'ping' }]);
    socket().say({ kind: 'pong' });
    await vi.advanceTimersByTimeAsync(2 * LOOK_EVERY_MS);
    expect(connections).toEqual(['connected']);
    socket().say({ kind: 'pong' });
    await vi.advanceTimersByTimeAsync(1000);
    expect(connections).toEqual(['connected', 'hung']);
    socket().say({ kind: 'pong' });
    expect(connections).toEqual(['connected', 'hung', 'connected']);
  });

  test('asks for no sign of life where it hears something anyway', async () => {
    const { connections, socket } = dialled();
    socket().tell('open');
    for (let time = 0; time < 40; time++) {
      await vi.advanceTimersByTimeAsync(LOOK_EVERY_MS / 4);
      socket().say({ kind: 'push', push: { kind: 'changed', what: 'takes' } });
    }
    expect(socket().sent).toEqual([]);
    expect(connections).toEqual(['connected']);
  });

  test('that hangs for long is given up for another, and what it says later is not heard', async () => {
    const { bridge, sockets, listen, pushes } = dialled();
    listen();
    sockets[0]?.tell('open');
    const asked = bridge.ask('host.info', {});
    await vi.advanceTimersByTimeAsync(LONGEST_SILENCE_MS + 1000);
    expect(sockets).toHaveLength(2);
    sockets[0]?.say({ kind: 'push', push: { kind: 'changed', what: 'takes' } });
    expect(pushes).toEqual([]);
    sockets[1]?.tell('open');
    expect(sockets[1]?.names()).toEqual(['host.info']);
    sockets[1]?.say({ ...INFO, id: sockets[1].sent[0]?.id });
    expect(await asked).toEqual({ ok: true, value: 'told' });
  });
});

describe('what is pushed', () => {
  test('before anybody listens is told to those who listen first, all of them', async () => {
    const { bridge, socket, listen, pushes } = dialled();
    socket().tell('open');
    socket().say({ kind: 'push', push: { kind: 'changed', what: 'charts' } });
    const others: Push[] = [];
    listen();
    bridge.onPush((push) => others.push(push), new AbortController().signal);
    await Promise.resolve();
    expect(pushes).toEqual([{ kind: 'changed', what: 'charts' }]);
    expect(others).toEqual(pushes);
  });

  test('while nobody was there is made up for: everything has changed', async () => {
    const { socket, listen, pushes } = dialled();
    listen();
    socket().tell('open');
    expect(pushes).toEqual([]);
    socket().tell('close');
    await vi.advanceTimersByTimeAsync(1000);
    socket().tell('open');
    const told = pushes.map((push) => (push.kind === 'changed' ? push.what : push.kind));
    expect(told).toEqual(expect.arrayContaining(['charts', 'takes', 'settings', 'library']));
  });
});
