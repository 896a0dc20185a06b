/** What pages in the program may not do, whoever wrote them. Source: Electron's security checklist. */

import type { App, Session } from 'electron/main';
import { isPageUrl } from './page.ts';

/** MIDI for our own page, without system-exclusive messages, and nothing else for anybody. */
export function restrictPermissions(
  session: Pick<
    Session,
    'setPermissionRequestHandler' | 'setPermissionCheckHandler' | 'setDevicePermissionHandler'
  >,
): void {
  session.setPermissionRequestHandler((_contents, permission, callback, { requestingUrl }) => {
    callback(permission === 'midi' && isPageUrl(requestingUrl));
  });
  session.setPermissionCheckHandler(
    // An origin may come with or without the slash that ends it.
    (_contents, permission, origin) => permission === 'midi' && isPageUrl(`${origin}/`),
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
