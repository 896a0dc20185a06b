/** The bridge over loopback HTTP: calls as POST, pushes as server-sent events. */

import type { Bridge, CallName, Push, Reply } from '../../../shared/bridge/index.ts';
import { pushSchema } from '../../../shared/bridge/index.ts';

const UNREACHABLE = {
  ok: false,
  refusal: {
    code: 'internal',
    message: 'The program does not answer.',
    remedy: 'Start it again with npm start and open the address it prints.',
  },
} as const;

/** The bridge of the page's own host. The session cookie set at the first visit goes along by itself. */
export function browserBridge(): Bridge {
  const listeners = new Set<(push: Push) => void>();

  /** One connection for all listeners: a browser opens only a few to one host. */
  const connect = (): void => {
    const source = new EventSource('/push');
    source.addEventListener('message', (event) => {
      const push = pushSchema.safeParse(JSON.parse(String(event.data)));
      if (push.success) for (const listener of listeners) listener(push.data);
    });
  };
  let isConnected = false;

  return {
    async ask<Name extends CallName>(name: Name, request: unknown): Promise<Reply<Name>> {
      try {
        const response = await fetch(`/ask/${name}`, {
          method: 'POST',
          headers: { 'content-type': 'application/json' },
          body: JSON.stringify(request),
        });
        // The host has checked the reply against its schema before sending it.
        return (await response.json()) as Reply<Name>;
      } catch {
        return UNREACHABLE;
      }
    },
    onPush(listener, signal) {
      if (!isConnected) connect();
      isConnected = true;
      listeners.add(listener);
      signal.addEventListener('abort', () => listeners.delete(listener));
    },
  };
}
