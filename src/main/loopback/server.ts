/** The browser host: the renderer and its services on 127.0.0.1, for this machine's own browser alone. */

import { createServer, type IncomingMessage, type ServerResponse } from 'node:http';
import type { Push } from '../../../shared/bridge/index.ts';
import { PAGE_HEADERS } from '../page/headers.ts';
import { readStaticFiles } from '../page/static-files.ts';
import type { Services } from '../services/index.ts';
import { refusal } from '../store/index.ts';
import { limitConnections } from './connections.ts';
import { COOKIE, createGuard, isSameSecret } from './guard.ts';
import { createRecentPushes } from './recent-pushes.ts';

/** A take of two million events is refused; one of three hours fits many times. */
export const LARGEST_BODY_BYTES = 32 * 1024 * 1024;
const SLOWEST_REQUEST_MS = 15_000;

/**
 * Leads on to the page. Not a redirect: when the address was followed from another site, as a terminal in the browser
 * is, a redirect would be that site's navigation still, and the strict cookie would stay behind.
 */
const TO_THE_PAGE =
  '<!doctype html><meta http-equiv="refresh" content="0; url=/"><title>Linekeeper</title><link rel="icon" href="/icon.svg">';

export interface LoopbackHost {
  readonly port: number;
  /** An address that opens the page once. */
  openUrl(): string;
  push(push: Push): void;
  close(): Promise<void>;
}

export interface LoopbackSettings {
  readonly rendererFolder: string;
  /** What a second start of the program proves itself with. */
  readonly joinSecret: string;
  readonly services: Services;
  /** How long a request may take to arrive whole, in ms; 15 s when not given. */
  readonly slowestRequestMs?: number;
}

/** Starts the host on a free port. */
export async function startLoopback(settings: LoopbackSettings): Promise<LoopbackHost> {
  const files = readStaticFiles(settings.rendererFolder);
  const listeners = new Set<ServerResponse>();
  const recent = createRecentPushes();
  const slowestMs = settings.slowestRequestMs ?? SLOWEST_REQUEST_MS;
  const server = createServer({
    requestTimeout: slowestMs,
    headersTimeout: slowestMs,
    // The server looks for slow requests only this often, and its own default is half a minute.
    connectionsCheckingInterval: slowestMs / 4,
    // As it is by default: a request whose end can be read in two ways is refused, whatever Node was started with.
    insecureHTTPParser: false,
  });
  const connections = limitConnections(server);
  await new Promise<void>((resolve, reject) => {
    server.once('error', reject);
    server.listen(0, '127.0.0.1', resolve);
  });
  const address = server.address();
  const port = typeof address === 'object' && address !== null ? address.port : 0;
  const guard = createGuard(port);
  const openUrl = (): string => `http://127.0.0.1:${port}/open?token=${guard.issueToken()}`;

  server.on('request', (request, response) => {
    for (const [name, value] of Object.entries(PAGE_HEADERS)) response.setHeader(name, value);
    void route(request, response);
  });

  async function route(request: IncomingMessage, response: ServerResponse): Promise<void> {
    if (!guard.isOurHost(request) || !guard.isOurOrigin(request)) {
      return hangUp(response, 403, 'This address is for the program’s own page.');
    }
    const url = URL.parse(`http://127.0.0.1:${port}${request.url ?? '/'}`);
    if (url === null) return hangUp(response, 400, 'This is no address of ours.');
    if (url.pathname === '/join') return join(request, response);
    if (url.pathname === '/open') return open(url, request, response);
    if (!guard.hasSession(request)) {
      return hangUp(
        response,
        401,
        'Start Linekeeper and open the address it prints: each opens once.',
      );
    }
    connections.trust(request.socket);
    if (url.pathname === '/push' && request.method === 'GET') return listen(request, response);
    if (url.pathname.startsWith('/ask/')) return ask(url.pathname.slice(5), request, response);
    const file = files.get(url.pathname);
    if (file === undefined) return text(response, 404, 'There is nothing here.');
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      return text(response, 405, 'This can only be read.');
    }
    response.writeHead(200, { 'content-type': file.type, 'content-length': file.bytes.length });
    response.end(request.method === 'HEAD' ? undefined : file.bytes);
  }

  function open(url: URL, request: IncomingMessage, response: ServerResponse): void {
    // Asking about the address, as link previews do, does not spend it.
    if (request.method !== 'GET') {
      text(response, 405, 'This can only be opened.');
      return;
    }
    const session = guard.redeem(url.searchParams.get('token') ?? '');
    if (session === null && !guard.hasSession(request)) {
      text(response, 401, 'This address was used already. Start Linekeeper again for a new one.');
      return;
    }
    if (session !== null) {
      response.setHeader('set-cookie', `${COOKIE}=${session}; HttpOnly; SameSite=Strict; Path=/`);
    }
    response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' }).end(TO_THE_PAGE);
  }

  function join(request: IncomingMessage, response: ServerResponse): void {
    const secret = request.headers['x-linekeeper-join'];
    const isKnown = typeof secret === 'string' && isSameSecret(secret, settings.joinSecret);
    if (request.method === 'POST' && isKnown) json(response, 200, { url: openUrl() });
    else text(response, 403, 'Only a second start of the program may join.');
  }

  function listen(request: IncomingMessage, response: ServerResponse): void {
    response.writeHead(200, { 'content-type': 'text/event-stream' });
    response.write(': listening\n\n');
    for (const push of recent.changes()) response.write(pushed(push));
    listeners.add(response);
    request.on('close', () => listeners.delete(response));
  }

  async function ask(
    name: string,
    request: IncomingMessage,
    response: ServerResponse,
  ): Promise<void> {
    if (request.method !== 'POST') return text(response, 405, 'Calls are posted.');
    if (request.headers['content-type'] !== 'application/json') {
      return text(response, 415, 'Calls are JSON.');
    }
    const body = isTooLarge(request) ? null : await readBody(request);
    if (body === null) {
      const tooLarge = refusal('tooLarge', 'This is too much at once.', 'Use a shorter take.');
      response.setHeader('connection', 'close');
      return json(response, 413, { ok: false, refusal: tooLarge });
    }
    const parsed = parseJson(body);
    if (!parsed.ok) {
      const broken = refusal('badRequest', 'The call is no JSON.', 'Load the page again.');
      return json(response, 400, { ok: false, refusal: broken });
    }
    json(response, 200, await settings.services(name, parsed.value));
  }

  return {
    port,
    openUrl,
    push(push) {
      recent.add(push);
      for (const listener of listeners) listener.write(pushed(push));
    },
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        server.closeAllConnections();
      }),
  };
}

/** Refuses and ends the connection: whatever else comes over it is not read. */
function hangUp(response: ServerResponse, status: number, sentence: string): void {
  response.setHeader('connection', 'close');
  text(response, status, sentence);
}

/** A push as a server-sent event. */
function pushed(push: Push): string {
  return `data: ${JSON.stringify(push)}\n\n`;
}

function text(response: ServerResponse, status: number, sentence: string): void {
  response.writeHead(status, { 'content-type': 'text/plain; charset=utf-8' }).end(`${sentence}\n`);
}

function json(response: ServerResponse, status: number, value: unknown): void {
  response.writeHead(status, { 'content-type': 'application/json' }).end(JSON.stringify(value));
}

/** Whether a body says beforehand that it is larger than allowed; one that does not say is counted. */
function isTooLarge({ headers }: IncomingMessage): boolean {
  return Number(headers['content-length'] ?? 0) > LARGEST_BODY_BYTES;
}

/** The body as text, or null when it is larger than allowed or breaks off. */
async function readBody(request: IncomingMessage): Promise<string | null> {
  const chunks: Buffer[] = [];
  let size = 0;
  try {
    for await (const chunk of request) {
      const bytes = Buffer.from(chunk);
      size += bytes.length;
      if (size > LARGEST_BODY_BYTES) return null;
      chunks.push(bytes);
    }
  } catch {
    return null;
  }
  return Buffer.concat(chunks).toString('utf8');
}

function parseJson(
  body: string,
): { readonly ok: true; readonly value: unknown } | { readonly ok: false } {
  try {
    return { ok: true, value: JSON.parse(body) };
  } catch {
    return { ok: false };
  }
}
