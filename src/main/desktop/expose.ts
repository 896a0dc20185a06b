/** The page's way out of its sandbox: two named functions, no channel and no event object. */

import type { ContextBridge, IpcRenderer, IpcRendererEvent } from 'electron/renderer';
import { CHANNELS, EXPOSED_NAME } from './channels.ts';

/** Gives the page `ask` and `onPush`. What `onPush` answers ends the listening: a signal cannot cross over. */
export function exposeBridge(
  contextBridge: Pick<ContextBridge, 'exposeInMainWorld'>,
  ipcRenderer: Pick<IpcRenderer, 'invoke' | 'on' | 'off' | 'send'>,
): void {
  contextBridge.exposeInMainWorld(EXPOSED_NAME, {
    ask: (name: unknown, request: unknown) => ipcRenderer.invoke(CHANNELS.ask, name, request),
    onPush(listener: (push: unknown) => void) {
      const heard = (_event: IpcRendererEvent, push: unknown): void => listener(push);
      ipcRenderer.on(CHANNELS.push, heard);
      ipcRenderer.send(CHANNELS.listening);
      return () => {
        ipcRenderer.off(CHANNELS.push, heard);
      };
    },
  });
}
