/** The sockets of the pages: calls in, answers and pushes out, and when a page is gone for good. */

import type { IncomingMessage } from 'node:http';
import type { Duplex } from 'node:stream';
import { type WebSocket, WebSocketServer } from 'ws';
import { z } from 'zod';
import {
  type Answer,
  GOING_AWAY,
  type HostMessage,
  LARGEST_MESSAGE_BYTES,
  type PageMessage,
  type Push,
} from '../../../shared/bridge/index.ts';

/** A page whose socket broke off is back within this, or it is gone. Own choice; it looks for its host at least every second. */
export const GRACE_MS = 2_000;

/** What is not a message of a page, such as one of another protocol. Source: RFC 6455, section 7.4.1. */
const UNACCEPTABLE = 1003;

const pageMessageSchema: z.ZodType<PageMessage> = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('ask'),
    id: z.int().min(0),
    name: z.string(),
    request: z.unknown().optional(),
  }),
  z.strictObject({ kind: z.literal('ping') }),
]);

export interface LinkSettings {
  /** Answers a call of a page; never throws. */
  readonly ask: (name: string, request: unknown, page: string) => Promise<Answer>;
  /** A page is gone: closed, led elsewhere, or broken off and not back in time. */
  readonly leave: (page: string) => void;
  /** A socket that gives no sign of life for this long is closed, in ms. */
  readonly silenceMs: number;
}

export interface Links {
  /** Takes over the connection of a page that asked for a socket and may have one. */
  accept(request: IncomingMessage, connection: Duplex, head: Buffer, page: string): void;
  push(push: Push): void;
  /** Tells the page that asked last; false when none is open. */
  pushToLatest(push: Push): boolean;
  close(): void;
}

export function createLinks({ ask, leave, silenceMs }: LinkSettings): Links {
  const server = new WebSocketServer({
    noServer: true,
    clientTracking: false,
    maxPayload: LARGEST_MESSAGE_BYTES,
  });
  /** By page, the one that asked last at the end. */
  const links = new Map<string, WebSocket>();
  const leaving = new Map<string, NodeJS.Timeout>();
  const isAlive = new WeakSet<WebSocket>();

  function open(socket: WebSocket, page: string): void {
    clearTimeout(leaving.get(page));
    leaving.delete(page);
    // A page has one socket; an older one is what a broken connection left.
    links.get(page)?.terminate();
    links.set(page, socket);
    isAlive.add(socket);
    socket.on('pong', () => isAlive.add(socket));
    socket.on('message', (data, isBinary) => {
      isAlive.add(socket);
      const message = isBinary ? null : read(String(data));
      if (message === null) socket.close(UNACCEPTABLE, 'This is no message of a page.');
      else void answer(socket, page, message);
    });
    // What a peer does wrong closes its socket; the close is what counts.
    socket.on('error', () => {});
    socket.on('close', (code) => closed(socket, page, code));
  }

  async function answer(socket: WebSocket, page: string, message: PageMessage): Promise<void> {
    if (message.kind === 'ping') {
      send(socket, { kind: 'pong' });
      return;
    }
    if (links.get(page) === socket) {
      links.delete(page);
      links.set(page, socket);
    }
    const { id, name, request } = message;
    send(socket, { kind: 'answer', id, answer: await ask(name, request, page) });
  }

  function closed(socket: WebSocket, page: string, code: number): void {
    if (links.get(page) !== socket) return;
    links.delete(page);
    const gone = (): void => {
      leaving.delete(page);
      leave(page);
    };
    if (code === GOING_AWAY) gone();
    else leaving.set(page, setTimeout(gone, GRACE_MS));
  }

  function lookForSilent(): void {
    for (const socket of links.values()) {
      if (!isAlive.has(socket)) socket.terminate();
      isAlive.delete(socket);
      socket.ping();
    }
  }
  // By way of an immediate: whatever came while this program was busy is read before anybody is judged silent.
  const looking = setInterval(() => setImmediate(lookForSilent), silenceMs / 2);

  return {
    accept: (request, connection, head, page) =>
      server.handleUpgrade(request, connection, head, (socket) => open(socket, page)),
    push(push) {
      for (const socket of links.values()) send(socket, { kind: 'push', push });
    },
    pushToLatest(push) {
      const latest = [...links.values()].at(-1);
      if (latest !== undefined) send(latest, { kind: 'push', push });
      return latest !== undefined;
    },
    close() {
      clearInterval(looking);
      for (const timer of leaving.values()) clearTimeout(timer);
      const open = [...links.values()];
      links.clear();
      for (const socket of open) socket.terminate();
    },
  };
}

function send(socket: WebSocket, message: HostMessage): void {
  socket.send(JSON.stringify(message));
}

function read(text: string): PageMessage | null {
  try {
    return pageMessageSchema.parse(JSON.parse(text));
  } catch {
    return null;
  }
}
