/**
 * One socket to the host, made again and again while the page lives: messages, the state of the connection, and signs of
 * life asked for where nothing else is heard. Knows nothing of calls.
 */

import {
  type Connection,
  type HostMessage,
  hostMessageSchema,
  type PageMessage,
} from '../../../shared/bridge/index.ts';

/** What is used of a browser's WebSocket. */
export interface Socket {
  send(text: string): void;
  close(): void;
  addEventListener(kind: 'open' | 'close', listener: () => void): void;
  addEventListener(kind: 'message', listener: (event: { readonly data: unknown }) => void): void;
}

/** Whether a host is there, and knows this browser. */
export type Presence = 'there' | 'gone' | 'unknown';

export interface Dialling {
  /** Opens a socket; a failure is told by its closing. */
  openSocket(): Socket;
  /**
   * Looks for the host without a socket: a browser makes a page that failed to open several sockets wait for seconds
   * before the next. Never throws.
   */
  look(): Promise<Presence>;
}

/** What was heard is looked at this often. */
export const LOOK_EVERY_MS = 230;
/**
 * A sign of life is asked for where one look heard nothing, and a host that gave none two looks later hangs: told within
 * a second, and not because the page itself was busy for one look.
 */
const QUIET_LOOKS_OF_A_HUNG_HOST = 3;
/** A socket that was silent for this long is given up and another one tried. */
export const LONGEST_SILENCE_MS = 10_000;
const MOST_QUIET_LOOKS = LONGEST_SILENCE_MS / LOOK_EVERY_MS;
/** A connection that is back within this was never away, as far as the player is concerned. */
export const TELL_GONE_AFTER_MS = 400;
/** The first look for a host that is gone, and the longest time between two. */
const FIRST_LOOK_AFTER_MS = 50;
const LONGEST_BETWEEN_LOOKS_MS = 800;

const PING = JSON.stringify({ kind: 'ping' } satisfies PageMessage);

export interface SocketLink {
  readonly connection: () => Connection;
  /** Sends the text of a message; false when no socket is open. */
  send(text: string): boolean;
}

export interface LinkListeners {
  opened(): void;
  heard(message: HostMessage): void;
  closed(): void;
  changed(connection: Connection): void;
}

/** Opens the first socket at once. */
export function openLink(dialling: Dialling, listeners: LinkListeners): SocketLink {
  let connection: Connection = 'connected';
  let open: Socket | null = null;
  /** Looks in a row that heard nothing. */
  let quietLooks = 0;
  let hasHeard = false;
  let goneTimer: ReturnType<typeof setTimeout> | null = null;

  function become(next: Connection): void {
    if (next === connection) return;
    connection = next;
    listeners.changed(next);
  }

  function dial(): void {
    const socket = dialling.openSocket();
    let isOver = false;
    socket.addEventListener('open', () => {
      if (isOver) return;
      open = socket;
      heardSomething();
      listeners.opened();
    });
    socket.addEventListener('message', ({ data }) => {
      if (isOver) return;
      heardSomething();
      const message = read(data);
      if (message !== null && message.kind !== 'pong') listeners.heard(message);
    });
    socket.addEventListener('close', () => over());
    const looking = setInterval(() => {
      quietLooks = hasHeard ? 0 : quietLooks + 1;
      hasHeard = false;
      if (quietLooks > MOST_QUIET_LOOKS) over();
      else if (quietLooks === 1) send(PING);
      else if (quietLooks >= QUIET_LOOKS_OF_A_HUNG_HOST && connection === 'connected') {
        become('hung');
      }
    }, LOOK_EVERY_MS);

    function over(): void {
      if (isOver) return;
      isOver = true;
      clearInterval(looking);
      socket.close();
      quietLooks = 0;
      open = null;
      goneTimer ??= setTimeout(() => become('gone'), TELL_GONE_AFTER_MS);
      listeners.closed();
      setTimeout(() => void search(FIRST_LOOK_AFTER_MS), FIRST_LOOK_AFTER_MS);
    }
  }

  function heardSomething(): void {
    hasHeard = true;
    if (goneTimer !== null) clearTimeout(goneTimer);
    goneTimer = null;
    become('connected');
  }

  async function search(waitedMs: number): Promise<void> {
    const presence = await dialling.look();
    if (presence === 'there') return dial();
    if (presence === 'unknown') become('unknown');
    const nextMs = Math.min(2 * waitedMs, LONGEST_BETWEEN_LOOKS_MS);
    setTimeout(() => void search(nextMs), nextMs);
  }

  function send(text: string): boolean {
    open?.send(text);
    return open !== null;
  }

  dial();
  return { connection: () => connection, send };
}

/** A message of the host; null for what is none, as from a host of another version. */
function read(data: unknown): HostMessage | null {
  const message = hostMessageSchema.safeParse(JSON.parse(String(data)));
  return message.success ? message.data : null;
}
