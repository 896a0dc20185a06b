/** The desktop host: one window on the library, with the desktop's menu, files and dialogs. */

import { basename, join } from 'node:path';
import { tellRefusal } from '../../../shared/refusal-words.ts';
import { joinRunningHost, joinWords } from '../loopback/join-file.ts';
import { openProgram, type Program } from '../open-program.ts';
import { refusalOf } from '../store/index.ts';
import { linkToPage, type PageLink } from './calls.ts';
import { loadDesktopState, saveDesktopState, withRecent } from './desktop-state.ts';
import type { ElectronParts, Window } from './electron-parts.ts';
import { menuTemplate } from './menu.ts';
import { filesInArguments, isOpened, OPENED_ENDINGS, readOpenedFile } from './opened-files.ts';
import { PAGE_URL, registerPageScheme, servePage } from './page.ts';
import { restrictNavigation, restrictPermissions, restrictRequests } from './policy.ts';
import { openWindow } from './window.ts';

export interface DesktopSettings {
  readonly dataFolder: string;
  readonly sharedFolder: string;
  readonly rendererFolder: string;
  readonly preloadFile: string;
  readonly version: string;
  readonly platform: NodeJS.Platform;
  readonly argv: readonly string[];
  readonly workingFolder: string;
}

/** Exit code of a start that told the player why it failed: whoever started it need not try another way. */
export const TOLD_EXIT_CODE = 3;

/** Starts the desktop host, or hands what it was given to the one that runs, and ends. */
export function startDesktop(electron: ElectronParts, settings: DesktopSettings): void {
  const { app } = electron;
  app.setPath('userData', join(settings.dataFolder, 'desktop'));
  if (!app.requestSingleInstanceLock()) {
    app.quit();
    return;
  }
  registerPageScheme(electron.protocol);
  restrictNavigation(app);

  // Files may be handed over before there is a window to show them in.
  const handedOver = [...filesInArguments(settings.argv, settings.workingFolder)];
  let openFile = (path: string): void => void handedOver.push(path);
  let toFront = (): void => {};

  app.on('second-instance', (_event, argv, workingFolder) => {
    toFront();
    for (const path of filesInArguments(argv, workingFolder)) openFile(path);
  });
  app.on('open-file', (event, path) => {
    event.preventDefault();
    openFile(path);
  });
  app.on('window-all-closed', () => app.quit());

  void app.whenReady().then(async () => {
    const opened = await openOrJoin(electron, settings);
    if (opened === null) return;
    closeBeforeQuit(app, opened.program);
    const running = runWindow(electron, settings, opened.link);
    toFront = running.toFront;
    openFile = running.openFile;
    for (const path of handedOver.splice(0)) openFile(path);
  });
}

/** Lets the program end only once the library is closed, which may take a last backup. */
function closeBeforeQuit(app: ElectronParts['app'], program: Program): void {
  let isClosed = false;
  app.on('will-quit', (event) => {
    if (isClosed) return;
    event.preventDefault();
    const quit = (): void => {
      isClosed = true;
      app.quit();
    };
    program.close().then(quit, quit);
  });
}

interface Opened {
  readonly program: Program;
  readonly link: PageLink;
}

/** Opens the library; or leads to the browser host that has it; or says why it cannot be opened. Null ends the start. */
async function openOrJoin(
  { app, dialog, ipcMain, shell }: ElectronParts,
  settings: DesktopSettings,
): Promise<Opened | null> {
  try {
    let link: PageLink | null = null;
    const program = openProgram({
      ...settings,
      host: 'electron',
      push: (push) => link?.push(push),
    });
    if (program !== null) {
      link = linkToPage(ipcMain, program);
      return { program, link };
    }
    const joined = await joinRunningHost(settings.dataFolder, true);
    if (joined !== null) {
      if (joined.isShown) process.stdout.write(`${joinWords(joined)}\n`);
      else await shell.openExternal(joined.url);
      app.quit();
      return null;
    }
    dialog.showErrorBox('Linekeeper is open already', 'Close the other one, then start again.');
  } catch (error) {
    const { message, remedy } = tellRefusal(refusalOf(error));
    dialog.showErrorBox('Linekeeper could not start', `${message} ${remedy}`);
  }
  app.exit(TOLD_EXIT_CODE);
  return null;
}

interface Running {
  toFront(): void;
  openFile(path: string): void;
}

function runWindow(electron: ElectronParts, settings: DesktopSettings, link: PageLink): Running {
  const { app, dialog, Menu, session } = electron;
  const statePath = join(settings.dataFolder, 'desktop.json');
  let state = loadDesktopState(statePath);
  function keep(change: Partial<typeof state>): void {
    state = { ...state, ...change };
    saveDesktopState(statePath, state);
  }

  restrictPermissions(session.defaultSession);
  restrictRequests(session.defaultSession);
  servePage(electron.protocol, settings.rendererFolder);
  const window = openWindow(electron, settings.preloadFile, state, keep);
  link.setWindow(window);
  saveDownloads(electron, window);

  async function openFile(path: string): Promise<void> {
    const file = isOpened(path)
      ? await readOpenedFile(path)
      : { ok: false as const, sentence: `Linekeeper opens ${OPENED_ENDINGS.join(', ')} files.` };
    if (!file.ok) return dialog.showErrorBox('The file could not be opened', file.sentence);
    link.push(file.push);
    app.addRecentDocument(path);
    keep({ recent: withRecent(state.recent, path) });
    setMenu();
  }

  async function openDialog(): Promise<void> {
    const { filePaths } = await dialog.showOpenDialog(window, {
      properties: ['openFile'],
      filters: [{ name: 'Charts and takes', extensions: [...OPENED_ENDINGS] }],
    });
    for (const path of filePaths) await openFile(path);
  }

  function setMenu(): void {
    const template = menuTemplate(settings.platform, state.recent, {
      openDialog: () => void openDialog(),
      openFile: (path) => void openFile(path),
      print: () => window.webContents.print(),
      command: (name) => link.push({ kind: 'command', name }),
    });
    Menu.setApplicationMenu(Menu.buildFromTemplate(template));
  }

  setMenu();
  void window.loadURL(PAGE_URL);
  return {
    toFront() {
      if (window.isMinimized()) window.restore();
      window.focus();
    },
    openFile: (path) => void openFile(path),
  };
}

/** What the page saves goes where the player says, and a save that failed is told. */
function saveDownloads({ app, dialog, session }: ElectronParts, window: Window): void {
  session.defaultSession.on('will-download', (_event, item) => {
    // A name alone: the player is asked where it goes.
    const name = basename(item.getFilename());
    item.setSaveDialogOptions({ defaultPath: join(app.getPath('documents'), name) });
    item.once('done', (_done, outcome) => {
      if (outcome !== 'interrupted' || window.isDestroyed()) return;
      const sentence = `${name} is not saved. Check that there is room, and save it again.`;
      dialog.showErrorBox('The file could not be saved', sentence);
    });
  });
}
