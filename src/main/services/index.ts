/** The services: one boundary for both hosts. What comes in is unknown until its schema has read it. */

import { CALLS, type CallName, type Refusal } from '../../../shared/bridge/index.ts';
import { refusal, refusalOf } from '../store/index.ts';
import { createHandlers, type ServiceParts } from './handlers.ts';

export type { ServiceParts } from './handlers.ts';
export { readShipped } from './shipped.ts';

/** A reply as it goes over a transport. */
export type Answer =
  | { readonly ok: true; readonly value: unknown }
  | { readonly ok: false; readonly refusal: Refusal };

/** Answers calls by name; never throws. */
export type Services = (name: string, request: unknown) => Answer;

/** Starts the services over their parts. Requests and replies are both checked against the bridge. */
export function createServices(parts: ServiceParts): Services {
  const handlers = createHandlers(parts);
  const calls = new Map<string, (request: unknown) => Answer>(
    (Object.keys(CALLS) as CallName[]).map((name) => [name, (request) => answer(name, request)]),
  );

  function answer<Name extends CallName>(name: Name, request: unknown): Answer {
    const parsed = read(name, request);
    if (parsed === null) return refuse('badRequest', `${name}: it is nested too deep`);
    if (!parsed.success) {
      const issue = parsed.error.issues[0];
      const place = issue?.path.join('.') ?? '';
      return refuse('badRequest', `${name}: ${place} ${issue?.message ?? ''}`.trim());
    }
    // The schema of this very call has read the request.
    const handler = handlers[name] as (request: unknown) => unknown;
    return { ok: true, value: CALLS[name].reply.parse(handler(parsed.data)) };
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

  function refuse(code: Refusal['code'], message: string): Answer {
    return { ok: false, refusal: refusal(code, message, 'Load the page again.') };
  }

  return (name, request) => {
    const call = calls.get(name);
    if (call === undefined) return refuse('unknownCall', `There is no call ${name.slice(0, 100)}.`);
    try {
      return call(request);
    } catch (error) {
      return { ok: false, refusal: refusalOf(error) };
    }
  };
}
