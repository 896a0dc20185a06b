/** Starts the browser host: prints one address, opens it in the browser, runs until it is stopped. */

import { spawn } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { z } from 'zod';
import { tellRefusal } from '../../shared/refusal-words.ts';
import { startBrowserHost } from './browser-host.ts';
import { dataFolder } from './data-folder.ts';
import { joinWords } from './loopback/join-file.ts';
import { refusalOf } from './store/index.ts';

const { values: options } = parseArgs({
  options: { open: { type: 'boolean', default: true } },
  allowNegative: true,
});
const root = join(import.meta.dirname, '..', '..');
const manifest: unknown = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));

/** Opens an address with the system's own opener; where there is none, the printed address is enough. */
function openInBrowser(url: string): void {
  const openers: Partial<Record<NodeJS.Platform, readonly [string, readonly string[]]>> = {
    darwin: ['open', [url]],
    win32: ['cmd', ['/c', 'start', '', url]],
    linux: ['xdg-open', [url]],
  };
  const opener = openers[process.platform];
  if (opener === undefined) return;
  const child = spawn(opener[0], opener[1], { stdio: 'ignore', detached: true });
  child.on('error', () => {});
  child.unref();
}

async function start(): Promise<void> {
  try {
    const host = await startBrowserHost({
      dataFolder: dataFolder(process.env, process.platform),
      sharedFolder: join(root, 'shared'),
      rendererFolder: join(root, 'out', 'renderer'),
      version: z.object({ version: z.string() }).parse(manifest).version,
      show: options.open,
    });
    const words =
      host.kind === 'joined'
        ? joinWords(host)
        : `Linekeeper runs; stop it with Ctrl+C. Open in a Chromium-based browser: ${host.url}`;
    process.stdout.write(`${words}\n`);
    // A page that is open is shown in place of another tab.
    const isShown = host.kind === 'joined' && host.isShown;
    if (options.open && !isShown) openInBrowser(host.url);
    if (host.kind === 'started') {
      const stop = (): void => void host.close().then(() => process.exit(0));
      process.on('SIGINT', stop);
      process.on('SIGTERM', stop);
    }
  } catch (error) {
    const { message, remedy } = tellRefusal(refusalOf(error));
    process.stderr.write(`Linekeeper could not start. ${message} ${remedy}\n`);
    process.exitCode = 1;
  }
}

void start();
