/** Starts the program on a data folder of its own and opens its page in headless Chromium. */

import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, chromium, type Page } from 'playwright';

const root = join(import.meta.dirname, '..', '..');

export interface Program {
  readonly url: string;
  readonly dataFolder: string;
  /** The process of the host. */
  readonly pid: number;
  /** Kills the host at once, as a crash would. */
  kill(): void;
  stop(): Promise<void>;
}

/**
 * Starts the host; give a data folder to start again on what another run left there, and a file in which every
 * connection the host begins is to be written.
 */
export async function startProgram(
  dataFolder: string = mkdtempSync(join(tmpdir(), 'linekeeper-')),
  socketsFile: string | null = null,
): Promise<Program> {
  const watching = ['--import', join(import.meta.dirname, 'watch-sockets.mjs')];
  const child: ChildProcess = spawn(
    process.execPath,
    [...(socketsFile === null ? [] : watching), join(root, 'scripts', 'start.mjs'), '--no-open'],
    {
      env: {
        ...process.env,
        LINEKEEPER_DATA: dataFolder,
        ...(socketsFile !== null && { WATCHED_SOCKETS: socketsFile }),
      },
      stdio: ['ignore', 'pipe', 'inherit'],
    },
  );
  const closed = new Promise<void>((resolve) => child.on('close', () => resolve()));
  const url = await new Promise<string>((resolve, reject) => {
    child.stdout?.on('data', (data: Buffer) => {
      const address = /http:\/\/\S+/.exec(data.toString())?.[0];
      if (address !== undefined) resolve(address);
    });
    child.on('close', () => reject(new Error('the program ended before it printed an address')));
  });
  return {
    url,
    dataFolder,
    pid: child.pid ?? 0,
    kill: () => child.kill('SIGKILL'),
    async stop() {
      child.kill('SIGTERM');
      await closed;
    },
  };
}

/** Debian's Chromium, unless another is named. */
export function browserPath(): string {
  return process.env['CHROMIUM'] ?? '/usr/bin/chromium';
}

/**
 * What the browser would get ready with each window though nobody sees it: suggestions below its address bar, drawn by two
 * pages of their own that cost more than the page under test. The others are switched off by Playwright, whose list this
 * one takes the place of.
 */
const UNWANTED_FEATURES: readonly string[] = [
  'WebUIOmniboxPopup',
  'WebUIOmniboxAimPopup',
  'AimEnabled',
  'AvoidUnnecessaryBeforeUnloadCheckSync',
  'DestroyProfileOnBrowserClose',
  'HttpsFirstBalancedModeAutoEnable',
  'HttpsUpgrades',
  'LensOverlay',
  'MediaRouter',
  'NetworkTimeServiceQuerying',
  'OptimizationHints',
  'PaintHolding',
  'PreconnectToSearch',
  'ThirdPartyStoragePartitioning',
];

export const BROWSER_ARGUMENTS: readonly string[] = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-background-networking',
  `--disable-features=${UNWANTED_FEATURES.join(',')}`,
  '--autoplay-policy=no-user-gesture-required',
];

export function openBrowser(): Promise<Browser> {
  return chromium.launch({ executablePath: browserPath(), args: [...BROWSER_ARGUMENTS] });
}

/** What a page said to the console that it should not have, and what it asked of other machines. */
export function watch(page: Page): { readonly errors: string[]; readonly foreign: string[] } {
  const errors: string[] = [];
  const foreign: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') errors.push(`${message.text()} ${message.location().url}`);
  });
  page.on('pageerror', (error) => errors.push(error.message));
  page.on('request', (request) => {
    const { hostname, protocol } = new URL(request.url());
    if (protocol.startsWith('http') && hostname !== '127.0.0.1') foreign.push(request.url());
  });
  return { errors, foreign };
}
