/** The browser host: the renderer and its services on 127.0.0.1, for this machine's own browser alone. */

import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { Duplex } from 'node:stream';
import { LINK_PATH, PAGE_ID, PAGE_PARAMETER, type Push } from '../../../shared/bridge/index.ts';
import { PAGE_HEADERS } from '../page/headers.ts';
import { readStaticFiles } from '../page/static-files.ts';
import { limitConnections } from './connections.ts';
import { createGuard, isSameSecret } from './guard.ts';
import type { JoinAnswer } from './join-file.ts';
import type { KeptSessions } from './kept-sessions.ts';
import { createLinks, type LinkSettings } from './links.ts';

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

export interface LoopbackSettings extends Pick<LinkSettings, 'ask' | 'leave'> {
  readonly rendererFolder: string;
  /** What a second start of the program proves itself with. */
  readonly joinSecret: string;
  /** What the last host left, if any. */
  readonly kept: KeptSessions | null;
  /** Told whenever there is something else to be kept for the next host. */
  readonly keep: (kept: KeptSessions) => void;
  /** How long a request or a message may take to arrive whole, in ms; 15 s when not given. */
  readonly slowestRequestMs?: number;
}

/** Starts the host: on the port of the last one where that is free, else on any free one. */
export async function startLoopback(settings: LoopbackSettings): Promise<LoopbackHost> {
  const { kept, keep } = settings;
  const files = readStaticFiles(settings.rendererFolder);
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
  const port = (kept && (await listenAt(server, kept.port))) ?? (await listenAt(server, 0));
  if (port === null) throw new Error('no port of 127.0.0.1 is free');
  // Whoever has the port of the last host may have been sent its cookies.
  const sessions = kept?.port === port ? kept.sessions : [];
  const guard = createGuard(port, sessions, (next) => keep({ port, sessions: next }));
  keep({ port, sessions });
  const links = createLinks({ ...settings, silenceMs: slowestMs });
  const openUrl = (): string => `http://127.0.0.1:${port}/open?token=${guard.issueToken()}`;
  const urlOf = (request: IncomingMessage): URL | null =>
    URL.parse(`http://127.0.0.1:${port}${request.url ?? '/'}`);

  server.on('request', (request, response) => {
    for (const [name, value] of Object.entries(PAGE_HEADERS)) response.setHeader(name, value);
    route(request, response);
  });
  server.on('upgrade', (request: IncomingMessage, connection: Duplex, head: Buffer) => {
    connection.on('error', () => connection.destroy());
    const url = urlOf(request);
    const page = url?.searchParams.get(PAGE_PARAMETER) ?? '';
    const status = statusOfUpgrade(request, url, page);
    if (status !== null) connection.end(`HTTP/1.1 ${status}\r\nConnection: close\r\n\r\n`);
    else {
      connections.trust(request.socket);
      links.accept(request, connection, head, page);
    }
  });

  /** Why a socket is refused, as the status of an answer; null when it is not. */
  function statusOfUpgrade(request: IncomingMessage, url: URL | null, page: string): string | null {
    if (!guard.isOurHost(request) || !guard.isFromOurPage(request)) return '403 Forbidden';
    if (url?.pathname !== LINK_PATH || !PAGE_ID.test(page)) return '400 Bad Request';
    return guard.hasSession(request) ? null : '401 Unauthorized';
  }

  function route(request: IncomingMessage, response: ServerResponse): ServerResponse {
    if (!guard.isOurHost(request) || !guard.isOurOrigin(request)) {
      return hangUp(response, 403, 'This address is for the program’s own page.');
    }
    const url = urlOf(request);
    if (url === null) return hangUp(response, 400, 'This is no address of ours.');
    if (url.pathname === '/join') return join(url, request, response);
    if (url.pathname === '/open') return open(url, request, response);
    if (!guard.hasSession(request)) {
      return hangUp(
        response,
        401,
        'Start Linekeeper and open the address it prints: each opens once.',
      );
    }
    connections.trust(request.socket);
    if (request.method !== 'GET' && request.method !== 'HEAD') {
      return hangUp(response, 405, 'This can only be read.');
    }
    if (url.pathname === LINK_PATH) return response.writeHead(204).end();
    const file = files.get(url.pathname);
    if (file === undefined) return text(response, 404, 'There is nothing here.');
    response.writeHead(200, { 'content-type': file.type, 'content-length': file.bytes.length });
    return response.end(request.method === 'HEAD' ? undefined : file.bytes);
  }

  function open(url: URL, request: IncomingMessage, response: ServerResponse): ServerResponse {
    // Asking about the address, as link previews do, does not spend it.
    if (request.method !== 'GET') return text(response, 405, 'This can only be opened.');
    const isGood = guard.spendToken(url.searchParams.get('token') ?? '');
    if (!guard.hasSession(request)) {
      if (!isGood) {
        const sentence = 'This address was used already. Start Linekeeper again for a new one.';
        return text(response, 401, sentence);
      }
      const cookie = guard.beginSession();
      response.setHeader('set-cookie', `${cookie}; HttpOnly; SameSite=Strict; Path=/`);
    }
    return response.writeHead(200, { 'content-type': 'text/html; charset=utf-8' }).end(TO_THE_PAGE);
  }

  function join(url: URL, request: IncomingMessage, response: ServerResponse): ServerResponse {
    const secret = request.headers['x-linekeeper-join'];
    const isKnown = typeof secret === 'string' && isSameSecret(secret, settings.joinSecret);
    if (request.method !== 'POST' || !isKnown) {
      return text(response, 403, 'Only a second start of the program may join.');
    }
    const isShown = url.searchParams.has('show') && links.pushToLatest({ kind: 'front' });
    const answer: JoinAnswer = { url: openUrl(), isShown };
    return response
      .writeHead(200, { 'content-type': 'application/json; charset=utf-8' })
      .end(JSON.stringify(answer));
  }

  return {
    port,
    openUrl,
    push: links.push,
    close: () =>
      new Promise((resolve) => {
        server.close(() => resolve());
        links.close();
        server.closeAllConnections();
      }),
  };
}

/** Listens at a port of 127.0.0.1, 0 for any; the port, or null when it cannot be had. */
function listenAt(server: Server, port: number): Promise<number | null> {
  return new Promise((resolve) => {
    const failed = (): void => resolve(null);
    server.once('error', failed);
    server.listen(port, '127.0.0.1', () => {
      server.off('error', failed);
      const address = server.address();
      resolve(typeof address === 'object' && address !== null ? address.port : null);
    });
  });
}

/** Refuses and ends the connection: whatever else comes over it is not read. */
function hangUp(response: ServerResponse, status: number, sentence: string): ServerResponse {
  response.setHeader('connection', 'close');
  return text(response, status, sentence);
}

function text(response: ServerResponse, status: number, sentence: string): ServerResponse {
  return response
    .writeHead(status, { 'content-type': 'text/plain; charset=utf-8' })
    .end(`${sentence}\n`);
}
