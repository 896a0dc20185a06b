/** The way of a page to a browser host, gone by a test: the same socket, with the cookie and origin a browser would send. */

import { WebSocket } from 'ws';
import { LINK_PATH, PAGE_PARAMETER } from '../../shared/bridge/index.ts';
import type { Dialling } from '../../src/renderer/bridge/socket-link.ts';

export interface Opened {
  readonly origin: string;
  /** The session's, as a request sends it. */
  readonly cookie: string;
}

/** Opens an address that a host printed. */
export async function openAddress(url: string): Promise<Opened> {
  const response = await fetch(url);
  const cookie = response.headers.get('set-cookie')?.split(';')[0] ?? '';
  return { origin: new URL(url).origin, cookie };
}

export function linkAddress(origin: string, page: string): string {
  return `${origin.replace('http', 'ws')}${LINK_PATH}?${PAGE_PARAMETER}=${page}`;
}

export interface Dialled extends Dialling {
  /** The socket of now. */
  socket(): WebSocket | null;
}

/** Dials as a page does, of its own id unless one is given. */
export function dialHost({ origin, cookie }: Opened, page: string = crypto.randomUUID()): Dialled {
  let socket: WebSocket | null = null;
  return {
    socket: () => socket,
    openSocket() {
      socket = new WebSocket(linkAddress(origin, page), { origin, headers: { cookie } });
      socket.on('error', () => {});
      return socket;
    },
    async look() {
      try {
        const response = await fetch(origin + LINK_PATH, { headers: { cookie } });
        return response.ok ? 'there' : 'unknown';
      } catch {
        return 'gone';
      }
    },
  };
}
