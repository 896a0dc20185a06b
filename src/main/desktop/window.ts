/** The one window: where it stood last time, closed to everything but its own page. */

import type { DesktopState } from './desktop-state.ts';
import { visibleBounds } from './desktop-state.ts';
import type { ElectronParts, Window } from './electron-parts.ts';

const FIRST_SIZE = { width: 1280, height: 860 };
const LEAST_SIZE = { minWidth: 720, minHeight: 520 };

export type WindowState = Pick<DesktopState, 'bounds' | 'isMaximized'>;

/** Opens the window; it is shown when its first page is drawn. `onState` is told where it stands whenever it closes. */
export function openWindow(
  { BrowserWindow, screen }: Pick<ElectronParts, 'BrowserWindow' | 'screen'>,
  preloadFile: string,
  last: WindowState,
  onState: (state: WindowState) => void,
): Window {
  const screens = screen.getAllDisplays().map(({ workArea }) => workArea);
  const window = new BrowserWindow({
    ...FIRST_SIZE,
    ...LEAST_SIZE,
    ...visibleBounds(last.bounds, screens),
    show: false,
    title: 'Linekeeper',
    webPreferences: {
      preload: preloadFile,
      sandbox: true,
      contextIsolation: true,
      nodeIntegration: false,
      webSecurity: true,
      webviewTag: false,
      // A file that is dropped is opened by the page, not in its place.
      navigateOnDragDrop: false,
      // Its dictionaries would be fetched from the network.
      spellcheck: false,
      // A take goes on, and goes to disk, behind other windows too.
      backgroundThrottling: false,
    },
  });
  if (last.isMaximized) window.maximize();
  window.once('ready-to-show', () => window.show());
  window.on('close', () =>
    onState({ bounds: window.getNormalBounds(), isMaximized: window.isMaximized() }),
  );
  return window;
}
