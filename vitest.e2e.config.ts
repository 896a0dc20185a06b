import { defineConfig } from 'vitest/config';
import { environment } from './tests/environment.ts';

export default defineConfig({
  test: {
    include: ['tests/e2e/**/*.test.ts'],
    env: environment,
    globalSetup: 'tests/e2e/one-browser.ts',
    // A machine with other work to do draws late; what never comes still fails. Nothing that is played waits for real time.
    testTimeout: 240_000,
    hookTimeout: 120_000,
    expect: { poll: { timeout: 60_000 } },
    // The page and the host of a test keep two processors busy, but not all of the time.
    maxWorkers: 2,
    // The browser's library takes a second to be read.
    pool: 'threads',
    isolate: false,
  },
});
