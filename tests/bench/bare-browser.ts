/**
 * A browser that nobody looks into while it opens a page, as a player's is not. One that is driven keeps account of
 * every request and every line of script, which takes longer than the page itself; it is asked afterwards.
 */

import { spawn } from 'node:child_process';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { chromium, type Page } from 'playwright';
import { z } from 'zod';
import { BROWSER_ARGUMENTS, browserPath } from '../e2e/start-program.ts';

export interface BareBrowser {
  /** Opens an address in a tab of its own; after a while asks its page, and closes it. */
  visit<Answer>(url: string, ask: (page: Page) => Promise<Answer>): Promise<Answer>;
  close(): Promise<void>;
}

/** Long enough for any page of ours, so that nobody has to look whether it is there. */
const LEFT_ALONE_MS = 2500;

export async function openBareBrowser(): Promise<BareBrowser> {
  const folder = mkdtempSync(join(tmpdir(), 'bare-browser-'));
  const child = spawn(
    browserPath(),
    [
      ...['--headless=new', '--no-first-run', '--remote-debugging-port=0', 'about:blank'],
      ...[`--user-data-dir=${folder}`, ...BROWSER_ARGUMENTS],
    ],
    { stdio: 'ignore' },
  );
  const closed = new Promise<void>((resolve) => child.on('close', () => resolve()));
  const door = await doorOf(folder);
  return {
    async visit(url, ask) {
      const opened = await fetch(`${door}/json/new?${url}`, { method: 'PUT' });
      const { id } = z.object({ id: z.string() }).parse(await opened.json());
      await wait(LEFT_ALONE_MS);
      const browser = await chromium.connectOverCDP(door);
      try {
        const { origin } = new URL(url);
        const pages = browser.contexts().flatMap((context) => context.pages());
        const page = pages.find((open) => open.url().startsWith(origin));
        if (page === undefined) throw new Error(`the page of ${origin} is not open`);
        return await ask(page);
      } finally {
        await browser.close();
        await fetch(`${door}/json/close/${id}`);
      }
    },
    async close() {
      child.kill();
      await closed;
    },
  };
}

/** The address by which the browser is told what to do; it writes its port down once it listens. */
async function doorOf(folder: string): Promise<string> {
  for (let looks = 0; looks < 300; looks++) {
    await wait(50);
    try {
      const [port] = readFileSync(join(folder, 'DevToolsActivePort'), 'utf8').split('\n');
      return `http://127.0.0.1:${port}`;
    } catch {
      // Not yet.
    }
  }
  throw new Error('the browser did not start');
}
