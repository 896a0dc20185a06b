/**
 * Electron stood in for, as far as the desktop host uses it: what goes between page and main process is cloned as it
 * would be, and what the host set or asked for can be looked at.
 */

import { EventEmitter } from 'node:events';
import { CHANNELS } from '../../../src/main/desktop/channels.ts';
import type { ElectronParts } from '../../../src/main/desktop/electron-parts.ts';
import { exposeBridge } from '../../../src/main/desktop/expose.ts';
import type { DesktopFunctions } from '../../../src/renderer/bridge/desktop-bridge.ts';

export interface Frame {
  readonly url: string;
}

type Handler = (...values: unknown[]) => unknown;

export class FakeContents extends EventEmitter {
  readonly mainFrame: Frame = { url: 'app://linekeeper/index.html' };
  openHandler: Handler = () => ({ action: 'allow' });
  printed = 0;
  readonly #page: EventEmitter;
  constructor(page: EventEmitter) {
    super();
    this.#page = page;
  }
  setWindowOpenHandler(handler: Handler): void {
    this.openHandler = handler;
  }
  send(channel: string, value: unknown): void {
    this.#page.emit(channel, {}, structuredClone(value));
  }
  print(): void {
    this.printed++;
  }
}

export interface FakeOptions {
  readonly isFirst?: boolean;
  readonly workAreas?: readonly unknown[];
  /** What the open dialog answers. */
  readonly chosenFiles?: readonly string[];
}

/** A fresh Electron with nothing running in it. */
export function createFakeElectron(options: FakeOptions = {}) {
  const page = new EventEmitter();
  const session = new EventEmitter();
  const handlers = new Map<string, Handler>();
  const settings = new Map<string, unknown>();
  const windows: FakeWindow[] = [];
  const errorBoxes: string[] = [];
  const log: string[] = [];
  const ipcMain = Object.assign(new EventEmitter(), {
    handle: (channel: string, handler: Handler) => handlers.set(channel, handler),
  });

  class FakeWindow extends EventEmitter {
    readonly webContents = new FakeContents(page);
    readonly options: Record<string, unknown>;
    url = '';
    isDown = false;
    isLarge = false;
    constructor(windowOptions: Record<string, unknown>) {
      super();
      this.options = windowOptions;
      windows.push(this);
      app.emit('web-contents-created', {}, this.webContents);
    }
    async loadURL(url: string): Promise<void> {
      this.url = url;
    }
    getNormalBounds = () => ({ x: 11, y: 22, width: 901, height: 602 });
    isDestroyed = () => false;
    isMaximized = () => this.isLarge;
    isMinimized = () => this.isDown;
    maximize(): void {
      this.isLarge = true;
    }
    restore(): void {
      this.isDown = false;
    }
    focus = () => log.push('focus');
    show = () => log.push('show');
  }

  const app = Object.assign(new EventEmitter(), {
    setPath: (name: string, path: string) => settings.set(name, path),
    getPath: (name: string) => `/${name}`,
    requestSingleInstanceLock: () => options.isFirst ?? true,
    whenReady: async () => {},
    quit() {
      log.push('quit');
      app.emit('quit-again');
    },
    exit: (code: number) => log.push(`exit ${code}`),
    addRecentDocument: (path: string) => log.push(`recent ${path}`),
  });

  const parts = {
    app,
    BrowserWindow: FakeWindow,
    dialog: {
      showErrorBox: (title: string, content: string) => errorBoxes.push(`${title}: ${content}`),
      showOpenDialog: async () => ({ filePaths: options.chosenFiles ?? [] }),
    },
    ipcMain,
    Menu: {
      buildFromTemplate: (template: unknown) => template,
      setApplicationMenu: (menu: unknown) => settings.set('menu', menu),
    },
    protocol: {
      registerSchemesAsPrivileged: (schemes: unknown) => settings.set('schemes', schemes),
      handle: (_scheme: string, handler: Handler) => settings.set('page', handler),
    },
    screen: {
      getAllDisplays: () =>
        (options.workAreas ?? [{ x: 0, y: 0, width: 1920, height: 1040 }]).map((workArea) => ({
          workArea,
        })),
    },
    session: {
      defaultSession: Object.assign(session, {
        setPermissionRequestHandler: (handler: Handler) => settings.set('ask', handler),
        setPermissionCheckHandler: (handler: Handler) => settings.set('check', handler),
        setDevicePermissionHandler: (handler: Handler) => settings.set('device', handler),
        webRequest: {
          onBeforeRequest: (filter: unknown, handler: Handler) =>
            settings.set('requests', { filter, handler }),
        },
      }),
    },
    shell: { openExternal: async (url: string) => void log.push(`open ${url}`) },
  };

  /** Sends a call as a frame of a page does. */
  async function invoke(frame: Frame | null, channel: string, ...values: unknown[]) {
    const handler = handlers.get(channel);
    if (handler === undefined) throw new Error(`nobody handles ${channel}`);
    return structuredClone(await handler({ senderFrame: frame }, ...structuredClone(values)));
  }

  /** Quits as the player does, and waits until the host lets it. */
  async function quit(): Promise<void> {
    let isHeld = false;
    const again = new Promise<void>((resolve) => app.once('quit-again', resolve));
    const preventDefault = (): void => {
      isHeld = true;
    };
    app.emit('will-quit', { preventDefault });
    if (isHeld) await again;
  }

  /** Runs the real preload in the page of the first window and gives the functions it put there. */
  function preload(): DesktopFunctions {
    const exposed = new Map<string, DesktopFunctions>();
    const frame = (): Frame | null => windows[0]?.webContents.mainFrame ?? null;
    exposeBridge({ exposeInMainWorld: (name, functions) => void exposed.set(name, functions) }, {
      invoke: (channel: string, ...values: unknown[]) => invoke(frame(), channel, ...values),
      on: page.on.bind(page),
      off: page.off.bind(page),
      send: (channel: string) => ipcMain.emit(channel, { senderFrame: frame() }),
    } as unknown as Parameters<typeof exposeBridge>[1]);
    const functions = exposed.get('linekeeper');
    if (functions === undefined) throw new Error('the preload exposed nothing');
    return functions;
  }

  /** A frame of a page says that it listens. */
  function listens(frame: Frame | null): void {
    ipcMain.emit(CHANNELS.listening, { senderFrame: frame });
  }

  return {
    // The stand-in has just what the host uses; Electron's own types ask for all of it.
    parts: parts as unknown as ElectronParts,
    app,
    session,
    windows,
    errorBoxes,
    log,
    settings,
    invoke,
    listens,
    preload,
    quit,
  };
}

export type FakeElectron = ReturnType<typeof createFakeElectron>;
