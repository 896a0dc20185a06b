/** The parts of Electron the desktop host is built on, handed in so that the host runs under test without its binary. */

import type * as electron from 'electron';

export type ElectronParts = Pick<
  typeof electron,
  | 'app'
  | 'BrowserWindow'
  | 'dialog'
  | 'ipcMain'
  | 'Menu'
  | 'protocol'
  | 'screen'
  | 'session'
  | 'shell'
>;

export type Window = electron.BrowserWindow;
