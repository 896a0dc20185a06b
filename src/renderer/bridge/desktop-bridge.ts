/** The bridge of the desktop host: two functions that its preload puts into the page. */

import type { Bridge, CallName, Reply } from '../../../shared/bridge/index.ts';
import { pushSchema } from '../../../shared/bridge/index.ts';

export interface DesktopFunctions {
  ask(name: string, request: unknown): Promise<unknown>;
  /** What it answers ends the listening. */
  onPush(listener: (push: unknown) => void): () => void;
}

const UNREACHABLE = {
  ok: false,
  refusal: { code: 'unreachable', why: { kind: 'plain', what: 'desktopSilent' } },
} as const;

/** The bridge over the functions of the preload. */
export function desktopBridge(functions: DesktopFunctions): Bridge {
  return {
    async ask<Name extends CallName>(name: Name, request: unknown): Promise<Reply<Name>> {
      try {
        // The host has checked the reply against its schema before sending it.
        return (await functions.ask(name, request)) as Reply<Name>;
      } catch {
        return UNREACHABLE;
      }
    },
    onPush(listener, signal) {
      const stop = functions.onPush((told) => {
        const push = pushSchema.safeParse(told);
        if (push.success) listener(push.data);
      });
      signal.addEventListener('abort', stop);
    },
    // The page and its host are one program: neither is there without the other.
    onConnection: (listener) => listener('connected'),
  };
}
