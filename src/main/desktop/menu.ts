/** The native menu. Commands of the page are sent to it by name; it has the same on its buttons. */

import { basename } from 'node:path';
import type { MenuItemConstructorOptions } from 'electron/main';
import { COMMANDS, type CommandName } from '../../../shared/commands.ts';

export interface MenuActions {
  /** Asks which files to open. */
  openDialog(): void;
  openFile(path: string): void;
  print(): void;
  /** Sends a command to the page. */
  command(name: CommandName): void;
}

/** The menu of a platform. There is no item that loads the page again: it would end a take that is being played. */
export function menuTemplate(
  platform: NodeJS.Platform,
  recent: readonly string[],
  actions: MenuActions,
): MenuItemConstructorOptions[] {
  const isMac = platform === 'darwin';
  return [
    ...(isMac ? [{ role: 'appMenu' as const }] : []),
    {
      label: '&File',
      submenu: [
        { label: 'Open …', accelerator: 'CmdOrCtrl+O', click: () => actions.openDialog() },
        {
          label: 'Open recent',
          enabled: recent.length > 0,
          submenu: recent.map((path) => ({
            // An ampersand would mark a key of the menu.
            label: basename(path).replaceAll('&', '&&'),
            click: () => actions.openFile(path),
          })),
        },
        { type: 'separator' },
        { label: 'Print …', accelerator: 'CmdOrCtrl+P', click: () => actions.print() },
        { type: 'separator' },
        { role: isMac ? 'close' : 'quit' },
      ],
    },
    { role: 'editMenu' },
    {
      label: '&Go',
      submenu: COMMANDS.map(({ name, words, accelerator }) => ({
        label: words,
        accelerator,
        click: () => actions.command(name),
      })),
    },
    {
      label: '&View',
      submenu: [
        { role: 'resetZoom' },
        { role: 'zoomIn' },
        { role: 'zoomOut' },
        { type: 'separator' },
        { role: 'togglefullscreen' },
      ],
    },
    { role: 'windowMenu' },
  ];
}
