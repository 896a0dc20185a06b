/** A call to the host past the screens, over a socket of its own in the page. */

import type { Page } from 'playwright';
import {
  type CallName,
  type CallReply,
  type CallRequest,
  LINK_PATH,
  PAGE_PARAMETER,
} from '../../shared/bridge/index.ts';

export async function askHost<Name extends CallName>(
  page: Page,
  name: Name,
  request: CallRequest<Name>,
): Promise<CallReply<Name>> {
  const message = JSON.stringify({ kind: 'ask', id: 0, name, request });
  const answer = await page.evaluate(
    ([path, text]) =>
      new Promise<{ ok: boolean; value: unknown; refusal: unknown }>((resolve, reject) => {
        const address = new URL(path + crypto.randomUUID(), location.href);
        address.protocol = 'ws';
        const socket = new WebSocket(address);
        socket.addEventListener('open', () => socket.send(text));
        socket.addEventListener('close', () => reject(new Error('the host is not there')));
        socket.addEventListener('message', ({ data }) => {
          const { kind, answer } = JSON.parse(data);
          if (kind !== 'answer') return;
          socket.close();
          resolve(answer);
        });
      }),
    [`${LINK_PATH}?${PAGE_PARAMETER}=`, message] as const,
  );
  if (!answer.ok) throw new Error(`${name}: ${JSON.stringify(answer.refusal)}`);
  // The host has checked the answer against the schema of this call.
  return answer.value as CallReply<Name>;
}
