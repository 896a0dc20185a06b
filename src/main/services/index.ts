/** The services: one boundary for both hosts. What comes in is unknown until its schema has read it. */

import { type Answer, CALLS, type CallName } from '../../../shared/bridge/index.ts';
import { refusal, refusalOf } from '../store/index.ts';
import { createHandlers, type Handlers, type ServiceParts } from './handlers.ts';
import { createRepairHandlers, type RepairParts } from './repair-handlers.ts';

export type { Answer } from '../../../shared/bridge/index.ts';
export type { ServiceParts } from './handlers.ts';
export type { RepairParts } from './repair-handlers.ts';
export { readShipped } from './shipped.ts';

/** Answers calls by name; never throws. What needs no waiting has been done when it returns. `client` is the page that asks. */
export type Services = (name: string, request: unknown, client: string) => Promise<Answer>;

export interface Served {
  readonly services: Services;
  /** The page is gone and asks no more: what it left open is finished. Never throws. */
  leave(client: string): void;
}

/** Starts the services over their parts. */
export function createServices(parts: ServiceParts): Served {
  const { handlers, leave } = createHandlers(parts);
  return { services: serve(handlers, parts.requireFile), leave };
}

/** Starts the few services there are over a library that is damaged. */
export function createRepairServices(parts: RepairParts): Served {
  return { services: serve(createRepairHandlers(parts), () => {}), leave() {} };
}

/** Requests and replies are both checked against the bridge. `check` throws when nothing can be answered. */
function serve(handlers: Handlers, check: () => void): Services {
  const calls = new Map<string, (request: unknown, client: string) => Answer | Promise<Answer>>(
    (Object.keys(CALLS) as CallName[]).map((name) => [
      name,
      (request, client) => answer(name, request, client),
    ]),
  );

  function answer<Name extends CallName>(
    name: Name,
    request: unknown,
    client: string,
  ): Answer | Promise<Answer> {
    const parsed = read(name, request);
    if (parsed === null) return misshapen(name, '', 'it is nested too deep');
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      const place = issue?.path.join('.') ?? '';
      return misshapen(name, place, issue?.message ?? '');
    }
    // The schema of this very call has read the request.
    const handler = handlers[name] as (request: unknown, client: string) => unknown;
    check();
    const value = handler(parsed.data, client);
    const reply = (done: unknown): Answer => ({ ok: true, value: CALLS[name].reply.parse(done) });
    return value instanceof Promise ? value.then(reply) : reply(value);
  }

  /** What a schema makes of a request; null where it is nested deeper than a schema can follow. */
  function read<Name extends CallName>(name: Name, request: unknown) {
    try {
      return CALLS[name].request.safeParse(request);
    } catch (error) {
      if (error instanceof RangeError) return null;
      throw error;
    }
  }

  function misshapen(name: string, place: string, detail: string): Answer {
    return {
      ok: false,
      refusal: refusal('badRequest', { kind: 'misshapenCall', name, place, detail }),
    };
  }

  return async (name, request, client) => {
    const call = calls.get(name);
    if (call === undefined) {
      const why = { kind: 'unknownCall', name: name.slice(0, 100) } as const;
      return { ok: false, refusal: refusal('unknownCall', why) };
    }
    try {
      return await call(request, client);
    } catch (error) {
      return { ok: false, refusal: refusalOf(error) };
    }
  };
}
