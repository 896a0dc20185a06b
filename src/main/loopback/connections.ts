/** How many may be connected. The page keeps its connections; of all others the longest waiting give way. */

import type { Server } from 'node:http';
import type { Socket } from 'node:net';

/** Connections of no session yet, at a time. A browser opens six to one host. */
export const MOST_STRANGERS = 32;
/** All together: more than the 255 sockets and 6 other connections a browser opens to one host, and all strangers. */
const MOST_CONNECTIONS = 320;

export interface Connections {
  /** A request with a session came over this connection: it does not have to give way. */
  trust(socket: Socket): void;
}

/**
 * Whoever opens connections and sends nothing keeps nobody out: a new stranger takes the place of the oldest, so that
 * the page always gets through.
 */
export function limitConnections(server: Server): Connections {
  server.maxConnections = MOST_CONNECTIONS;
  const strangers = new Set<Socket>();
  server.on('connection', (socket) => {
    strangers.add(socket);
    socket.once('close', () => strangers.delete(socket));
    for (const oldest of strangers) {
      if (strangers.size <= MOST_STRANGERS) break;
      strangers.delete(oldest);
      oldest.destroy();
    }
  });
  return { trust: (socket) => void strangers.delete(socket) };
}
