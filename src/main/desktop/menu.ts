/** The native menu. Items of the page's own are sent to it by name; the page has the same commands on its buttons. */

import { basename } from 'node:path';
import type { MenuItemConstructorOptions } from 'electron/main';

export interface MenuActions {
  /** Asks which files to open. */
  openDialog(): void;
  openFile(path: string): void;
  print(): void;
  /** Sends a command to the page. */
  command(name: string): void;
}

interface PageCommand {
  readonly name: string;
  readonly label: string;
  readonly accelerator: string;
}

/** Commands of the page that stand in the menu. */
export const PAGE_COMMANDS: readonly PageCommand[] = [
  { name: 'charts', label: 'Charts', accelerator: 'CmdOrCtrl+1' },
  { name: 'today', label: 'Today', accelerator: 'CmdOrCtrl+2' },
  { name: 'progress', label: 'Progress', accelerator: 'CmdOrCtrl+3' },
  { name: 'journal', label: 'Journal', accelerator: 'CmdOrCtrl+4' },
  { name: 'settings', label: 'Settings', accelerator: 'CmdOrCtrl+5' },
];

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
      submenu: PAGE_COMMANDS.map(({ name, label, accelerator }) => ({
        label,
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
