/** Who may speak to the loopback host: this machine's own page, opened with a token that is good once. */

import { randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';
import { digestOf } from './kept-sessions.ts';

export interface Guard {
  /** A fresh token for one opening of the page. */
  issueToken(): string;
  /** Spends a token; false when it is none or spent. */
  spendToken(token: string): boolean;
  /** Begins a session; answers its cookie as `name=value`. */
  beginSession(): string;
  /** Whether a request names this very host; a name that was rebound to this address does not. */
  isOurHost(request: IncomingMessage): boolean;
  /** Whether a request comes from our own page, or from no page at all. */
  isOurOrigin(request: IncomingMessage): boolean;
  /** Whether a request says that it comes from our own page, as a browser does when a page opens a socket. */
  isFromOurPage(request: IncomingMessage): boolean;
  /** Whether a request carries the cookie of an open session. */
  hasSession(request: IncomingMessage): boolean;
}

/** Most tokens and sessions kept at a time; the oldest go first. */
const MOST_KEPT = 32;

/**
 * A guard for the host at a port of 127.0.0.1. `sessions` are the digests of cookies that are good already; `onSessions`
 * is told all of them whenever there is another one.
 */
export function createGuard(
  port: number,
  sessions: readonly string[] = [],
  onSessions: (sessions: readonly string[]) => void = () => {},
): Guard {
  const tokens = new Set<string>();
  const digests = new Set(sessions);
  const host = `127.0.0.1:${port}`;
  const origin = `http://${host}`;
  // Browsers send a cookie to every port of an address: the name tells hosts on one machine apart.
  const cookieStart = `linekeeper-${port}=`;

  return {
    issueToken() {
      const token = randomBytes(32).toString('base64url');
      keep(tokens, token);
      return token;
    },
    spendToken(token) {
      const known = find(tokens, token);
      return known !== undefined && tokens.delete(known);
    },
    beginSession() {
      const session = randomBytes(32).toString('base64url');
      keep(digests, digestOf(session));
      onSessions([...digests]);
      return `${cookieStart}${session}`;
    },
    // Every name it gives counts: the first alone may be ours.
    isOurHost: ({ headersDistinct }) =>
      (headersDistinct['host'] ?? ['']).every((name) => name === host),
    isOurOrigin: ({ headers }) => headers.origin === undefined || headers.origin === origin,
    isFromOurPage: ({ headers }) => headers.origin === origin,
    hasSession(request) {
      const cookies = (request.headers.cookie ?? '').split(';').map((part) => part.trim());
      const own = cookies.find((cookie) => cookie.startsWith(cookieStart));
      return (
        own !== undefined && find(digests, digestOf(own.slice(cookieStart.length))) !== undefined
      );
    },
  };
}

function keep(set: Set<string>, value: string): void {
  set.add(value);
  for (const oldest of set) {
    if (set.size <= MOST_KEPT) break;
    set.delete(oldest);
  }
}

/** Looks a secret up without telling by its time how much of it was right. */
function find(secrets: ReadonlySet<string>, value: string): string | undefined {
  return [...secrets].find((secret) => isSameSecret(secret, value));
}

/** Compares two secrets in constant time. */
export function isSameSecret(one: string, other: string): boolean {
  const a = Buffer.from(one);
  const b = Buffer.from(other);
  return a.length === b.length && timingSafeEqual(a, b);
}
