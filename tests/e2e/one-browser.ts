/** One Chromium for all files of end-to-end tests; each connects to it and opens contexts of its own. */

import { existsSync } from 'node:fs';
import { chromium } from 'playwright';
import type { TestProject } from 'vitest/node';
import { BROWSER_ARGUMENTS, browserPath } from './start-program.ts';

/** Debian's Chromium for programs: it has no windows to get ready, and costs half as much beside its pages. */
const WINDOWLESS = '/usr/bin/chromium-headless-shell';

function testedPath(): string {
  const isChosen = process.env['CHROMIUM'] !== undefined;
  return !isChosen && existsSync(WINDOWLESS) ? WINDOWLESS : browserPath();
}

declare module 'vitest' {
  interface ProvidedContext {
    readonly browserAddress: string;
  }
}

export default async function setup({ provide }: TestProject): Promise<() => Promise<void>> {
  const server = await chromium.launchServer({
    executablePath: testedPath(),
    args: [...BROWSER_ARGUMENTS],
  });
  provide('browserAddress', server.wsEndpoint());
  return () => server.close();
}
