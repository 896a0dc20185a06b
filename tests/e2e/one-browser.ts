/** One Chromium for all files of end-to-end tests; each connects to it and opens contexts of its own. */

import { chromium } from 'playwright';
import type { TestProject } from 'vitest/node';
import { BROWSER_ARGUMENTS, browserPath } from './start-program.ts';

declare module 'vitest' {
  interface ProvidedContext {
    readonly browserAddress: string;
  }
}

export default async function setup({ provide }: TestProject): Promise<() => Promise<void>> {
  const server = await chromium.launchServer({
    executablePath: browserPath(),
    args: [...BROWSER_ARGUMENTS],
  });
  provide('browserAddress', server.wsEndpoint());
  return () => server.close();
}
