/** What the page does when it is told to from anywhere: by a button of its head, by a key, or by the menu of the desktop. One list. */

export const COMMANDS = [
  { name: 'charts', words: 'Charts', accelerator: 'CmdOrCtrl+1', key: null },
  { name: 'today', words: 'Today', accelerator: 'CmdOrCtrl+2', key: null },
  { name: 'progress', words: 'Progress', accelerator: 'CmdOrCtrl+3', key: null },
  { name: 'journal', words: 'Journal', accelerator: 'CmdOrCtrl+4', key: null },
  { name: 'settings', words: 'Settings', accelerator: 'CmdOrCtrl+5', key: null },
  { name: 'help', words: 'Help', accelerator: 'F1', key: 'F1' },
] as const satisfies readonly Command[];

interface Command {
  readonly name: string;
  readonly words: string;
  /** In the menu of the desktop. */
  readonly accelerator: string;
  /** On the page itself, also where a browser keeps the accelerator for its tabs; null for none. */
  readonly key: string | null;
}

export type CommandName = (typeof COMMANDS)[number]['name'];

export const COMMAND_NAMES = COMMANDS.map(({ name }) => name);
