/** What pages in the program may not do, whoever wrote them. Source: Electron's documentation, "Security"; from memory. */

import type { App, Session } from 'electron/main';
import { isPageUrl } from './page.ts';

/** What our own page may do: MIDI without system-exclusive messages, and keeping the screen awake while a take is played. */
const ALLOWED: ReadonlySet<string> = new Set(['midi', 'screen-wake-lock']);

/** Nothing else for anybody. */
export function restrictPermissions(
  session: Pick<
    Session,
    'setPermissionRequestHandler' | 'setPermissionCheckHandler' | 'setDevicePermissionHandler'
  >,
): void {
  session.setPermissionRequestHandler((_contents, permission, callback, { requestingUrl }) => {
    callback(ALLOWED.has(permission) && isPageUrl(requestingUrl));
  });
  session.setPermissionCheckHandler(
    // An origin may come with or without the slash that ends it.
    (_contents, permission, origin) => ALLOWED.has(permission) && isPageUrl(`${origin}/`),
  );
  session.setDevicePermissionHandler(() => false);
}

const NETWORK_AND_FILES = [
  'http://*/*',
  'https://*/*',
  'ws://*/*',
  'wss://*/*',
  'ftp://*/*',
  'file:///*',
];

/** The page has an address of its own; whatever would be asked of the network or the disk is not asked. */
export function restrictRequests({ webRequest }: Pick<Session, 'webRequest'>): void {
  webRequest.onBeforeRequest({ urls: NETWORK_AND_FILES }, (_details, answer) =>
    answer({ cancel: true }),
  );
}

/** No page leads anywhere else, opens another window, or holds a page of its own. */
export function restrictNavigation(app: Pick<App, 'on'>): void {
  app.on('web-contents-created', (_event, contents) => {
    contents.setWindowOpenHandler(() => ({ action: 'deny' }));
    contents.on('will-navigate', (event) => {
      if (!isPageUrl(event.url)) event.preventDefault();
    });
    contents.on('will-frame-navigate', (event) => {
      if (!isPageUrl(event.url)) event.preventDefault();
    });
    contents.on('will-redirect', (event) => event.preventDefault());
    contents.on('will-attach-webview', (event) => event.preventDefault());
  });
}
