/** Who may speak to the loopback host: this machine's own page, opened with a token that is good once. */

import { randomBytes, timingSafeEqual } from 'node:crypto';
import type { IncomingMessage } from 'node:http';

export const COOKIE = 'linekeeper';

export interface Guard {
  /** A fresh token for one opening of the page. */
  issueToken(): string;
  /** Spends a token; the cookie value of the session it opens, or null when it is none or spent. */
  redeem(token: string): string | null;
  /** Whether a request names this very host; a name that was rebound to this address does not. */
  isOurHost(request: IncomingMessage): boolean;
  /** Whether a request comes from our own page, or from no page at all. */
  isOurOrigin(request: IncomingMessage): boolean;
  /** Whether a request carries the cookie of an open session. */
  hasSession(request: IncomingMessage): boolean;
}

/** Most tokens and sessions kept at a time; the oldest go first. */
const MOST_KEPT = 32;

/** A guard for the host at a port of 127.0.0.1. */
export function createGuard(port: number): Guard {
  const tokens = new Set<string>();
  const sessions = new Set<string>();
  const host = `127.0.0.1:${port}`;

  return {
    issueToken() {
      const token = randomBytes(32).toString('base64url');
      keep(tokens, token);
      return token;
    },
    redeem(token) {
      const known = find(tokens, token);
      if (known === undefined) return null;
      tokens.delete(known);
      const session = randomBytes(32).toString('base64url');
      keep(sessions, session);
      return session;
    },
    // Every name it gives counts: the first alone may be ours.
    isOurHost: ({ headersDistinct }) =>
      (headersDistinct['host'] ?? ['']).every((name) => name === host),
    isOurOrigin({ headers }) {
      return headers.origin === undefined || headers.origin === `http://${host}`;
    },
    hasSession(request) {
      const cookies = (request.headers.cookie ?? '').split(';').map((part) => part.trim());
      const own = cookies.find((cookie) => cookie.startsWith(`${COOKIE}=`));
      return own !== undefined && find(sessions, own.slice(COOKIE.length + 1)) !== undefined;
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
