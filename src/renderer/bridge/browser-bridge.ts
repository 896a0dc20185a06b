/** The bridge to the browser host, over one socket: calls with numbers, answers by them, pushes. */

import type {
  Bridge,
  CallName,
  Connection,
  PageMessage,
  Push,
  Refusal,
  Reply,
} from '../../../shared/bridge/index.ts';
import { CHANGING, isRepeatable, LARGEST_MESSAGE_BYTES } from '../../../shared/bridge/index.ts';
import { dialOwnHost } from './dial-own-host.ts';
import { type Dialling, openLink } from './socket-link.ts';

/** A call waits so long for a host that is gone, in ms: long enough for one that is started again at once. */
export const LONGEST_WAIT_MS = 3_000;

const UNREACHABLE: Refusal = { code: 'unreachable', why: { kind: 'plain', what: 'hostSilent' } };
const LOST: Refusal = { code: 'unreachable', why: { kind: 'plain', what: 'hostLeft' } };
const TOO_LARGE: Refusal = { code: 'tooLarge', why: { kind: 'plain', what: 'tooMuchAtOnce' } };

interface Call {
  readonly name: CallName;
  /** The whole message, as it was asked. */
  readonly text: string;
  isSent: boolean;
  /** Refuses a call that has waited long enough for a host. */
  waiting: ReturnType<typeof setTimeout> | null;
  settle(answer: unknown): void;
}

/** The bridge of the page's own host. The session cookie set at the first visit goes along by itself. */
export function browserBridge(dialling: Dialling = dialOwnHost()): Bridge {
  const calls = new Map<number, Call>();
  const pushListeners = new Set<(push: Push) => void>();
  const connectionListeners = new Set<(connection: Connection) => void>();
  /** Pushed before anybody listened: a page that has asked and is still being drawn is told then. */
  let early: Push[] | null = [];
  let asked = 0;
  let wasOpen = false;

  function tell(push: Push): void {
    if (early === null) for (const listener of pushListeners) listener(push);
    else early.push(push);
  }

  const link = openLink(dialling, {
    opened() {
      for (const call of calls.values()) put(call);
      // What changed while nobody was there to tell is not known, so everything has.
      if (wasOpen) for (const what of CHANGING) tell({ kind: 'changed', what });
      wasOpen = true;
    },
    heard(message) {
      if (message.kind === 'push') tell(message.push);
      if (message.kind === 'answer') calls.get(message.id)?.settle(message.answer);
    },
    closed() {
      for (const call of calls.values()) {
        if (call.isSent && !isRepeatable(call.name)) call.settle(refused(LOST));
        else hold(call);
      }
    },
    changed(connection) {
      for (const listener of connectionListeners) listener(connection);
    },
  });

  /** Puts a call to the host, or holds it until there is one. */
  function put(call: Call): void {
    call.isSent = link.send(call.text);
    if (!call.isSent) hold(call);
    else if (call.waiting !== null) {
      clearTimeout(call.waiting);
      call.waiting = null;
    }
  }

  function hold(call: Call): void {
    call.waiting ??= setTimeout(() => call.settle(refused(UNREACHABLE)), LONGEST_WAIT_MS);
  }

  return {
    ask<Name extends CallName>(name: Name, request: unknown): Promise<Reply<Name>> {
      const id = asked++;
      const text = JSON.stringify({ kind: 'ask', id, name, request } satisfies PageMessage);
      if (isTooLarge(text)) return Promise.resolve(refused(TOO_LARGE));
      return new Promise((resolve) => {
        const call: Call = {
          ...{ name, text, isSent: false, waiting: null },
          settle(answer) {
            calls.delete(id);
            if (call.waiting !== null) clearTimeout(call.waiting);
            // The host has checked the answer against the schema of this call before sending it.
            resolve(answer as Reply<Name>);
          },
        };
        calls.set(id, call);
        put(call);
      });
    },
    onPush(listener, signal) {
      pushListeners.add(listener);
      signal.addEventListener('abort', () => pushListeners.delete(listener));
      const missed = early ?? [];
      early = null;
      // Once all that are drawn together listen.
      queueMicrotask(() => missed.forEach(tell));
    },
    onConnection(listener, signal) {
      connectionListeners.add(listener);
      signal.addEventListener('abort', () => connectionListeners.delete(listener));
      listener(link.connection());
    },
  };
}

function refused(refusal: Refusal) {
  return { ok: false, refusal } as const;
}

/** The host reads no larger message. A letter takes three bytes at most, so that few texts have to be measured. */
function isTooLarge(text: string): boolean {
  return 3 * text.length > LARGEST_MESSAGE_BYTES && new Blob([text]).size > LARGEST_MESSAGE_BYTES;
}
