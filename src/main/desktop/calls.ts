/** The bridge in the main process: calls in, pushes out, each only from and to our own page. */

import type { IpcMain, IpcMainEvent, IpcMainInvokeEvent } from 'electron/main';
import type { Push } from '../../../shared/bridge/index.ts';
import type { Answer, Served } from '../services/index.ts';
import { plainRefusal } from '../store/index.ts';
import { CHANNELS } from './channels.ts';
import type { Window } from './electron-parts.ts';
import { isPageUrl } from './page.ts';

export interface PageLink {
  /**
   * Tells the page. A file is kept until the page listens; a change is not, for the page reads everything when it
   * starts, and neither is a command, which is of its moment.
   */
  push(push: Push): void;
  /** The window whose page is meant from now on. */
  setWindow(window: Window): void;
}

/** Answers calls and keeps pushes for the page of one window, and tells the host when that page is gone. */
export function linkToPage(
  ipcMain: Pick<IpcMain, 'handle' | 'on'>,
  { services, leave }: Served,
): PageLink {
  let window: Window | null = null;
  let isListening = false;
  let pagesBefore = 0;
  const client = (): string => `page ${pagesBefore}`;
  const waiting: Push[] = [];

  /** Whether something was sent by the page itself: not by a frame in it, nor by a page in its place. */
  function isFromPage({ senderFrame }: IpcMainEvent | IpcMainInvokeEvent): boolean {
    if (senderFrame === null || window === null || window.isDestroyed()) return false;
    return senderFrame === window.webContents.mainFrame && isPageUrl(senderFrame.url);
  }

  ipcMain.handle(CHANNELS.ask, async (event, name: unknown, request: unknown): Promise<Answer> => {
    if (!isFromPage(event)) {
      return { ok: false, refusal: plainRefusal('notAllowed', 'notOurPage') };
    }
    return services(typeof name === 'string' ? name : '', request, client());
  });
  ipcMain.on(CHANNELS.listening, (event) => {
    if (!isFromPage(event)) return;
    isListening = true;
    for (const push of waiting.splice(0)) window?.webContents.send(CHANNELS.push, push);
  });

  return {
    push(push) {
      if (window !== null && !window.isDestroyed() && isListening) {
        window.webContents.send(CHANNELS.push, push);
      } else if (push.kind === 'file') {
        waiting.push(push);
      }
    },
    setWindow(next) {
      window = next;
      isListening = false;
      const isGone = (): void => {
        // One that is loaded anew has to say again that it listens.
        isListening = false;
        leave(client());
        pagesBefore++;
      };
      next.webContents.on('did-start-navigation', ({ isMainFrame, isSameDocument }) => {
        if (isMainFrame && !isSameDocument) isGone();
      });
      // What the page before still sent while it was leaving was taken for the next one's.
      next.webContents.on('did-navigate', () => leave(client()));
      next.webContents.on('render-process-gone', isGone);
      next.webContents.on('destroyed', isGone);
    },
  };
}
