/** The page in the window: the built renderer under an address of its own, for which no file and no network is asked. */

import type { Protocol } from 'electron/main';
import { PAGE_HEADERS } from '../page/headers.ts';
import { readStaticFiles } from '../page/static-files.ts';

const SCHEME = 'app';
const HOST = 'linekeeper';
export const PAGE_URL = `${SCHEME}://${HOST}/`;

/** Must be called before Electron is ready: only then are schemes given their rights. */
export function registerPageScheme(protocol: Pick<Protocol, 'registerSchemesAsPrivileged'>): void {
  protocol.registerSchemesAsPrivileged([
    { scheme: SCHEME, privileges: { standard: true, secure: true, supportFetchAPI: true } },
  ]);
}

/** Whether an address belongs to our page. */
export function isPageUrl(url: string): boolean {
  return url.startsWith(PAGE_URL);
}

/** Answers the page's requests from the built renderer; what was not built is not there. */
export function servePage(protocol: Pick<Protocol, 'handle'>, rendererFolder: string): void {
  const files = readStaticFiles(rendererFolder);
  protocol.handle(SCHEME, ({ url, method }) => {
    const headers = { ...PAGE_HEADERS };
    if (method !== 'GET') return new Response(null, { status: 405, headers });
    const { host, pathname } = new URL(url);
    const file = host === HOST ? files.get(pathname) : undefined;
    if (file === undefined) return new Response(null, { status: 404, headers });
    return new Response(new Uint8Array(file.bytes), {
      headers: { ...headers, 'content-type': file.type },
    });
  });
}
