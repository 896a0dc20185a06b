/** What the first screen asks of the host, asked before there is a screen, so that it is drawn once, with the answers in it. */

import type { Bridge, CallName, Reply } from '../../../shared/bridge/index.ts';

/** Calls without a request of their own. */
const FIRST_CALLS = ['library.state', 'settings.get', 'devices.list', 'charts.list'] as const;

const answersOf = new WeakMap<Bridge, ReadonlyMap<CallName, Reply<CallName>>>();

/** Asks, and keeps the answers until they are forgotten. */
export async function askAhead(bridge: Bridge): Promise<void> {
  const answers = FIRST_CALLS.map(
    async (name): Promise<[CallName, Reply<CallName>]> => [name, await bridge.ask(name, {})],
  );
  answersOf.set(bridge, new Map(await Promise.all(answers)));
}

/** The answer to a call if it was asked ahead; null otherwise. */
export function answerAhead<Name extends CallName>(bridge: Bridge, name: Name): Reply<Name> | null {
  // Each answer was kept under the name of its call.
  return (answersOf.get(bridge)?.get(name) as Reply<Name> | undefined) ?? null;
}

/** To be called once the first screen is drawn: whoever comes later asks anew. */
export function forgetAhead(bridge: Bridge): void {
  answersOf.delete(bridge);
}
