/** How the page reaches the host it came from. */

import { LINK_PATH, PAGE_PARAMETER } from '../../../shared/bridge/index.ts';
import type { Dialling } from './socket-link.ts';

/** A host that hangs takes connections and answers none. */
const LONGEST_LOOK_MS = 1_000;

export function dialOwnHost(): Dialling {
  // This page and no other: loaded anew it is another one.
  const page = crypto.randomUUID();
  const address = new URL(`${LINK_PATH}?${PAGE_PARAMETER}=${page}`, location.href);
  address.protocol = 'ws';
  return {
    openSocket: () => new WebSocket(address),
    async look() {
      try {
        const signal = AbortSignal.timeout(LONGEST_LOOK_MS);
        const response = await fetch(LINK_PATH, { signal });
        return response.ok ? 'there' : 'unknown';
      } catch {
        return 'gone';
      }
    },
  };
}
