import { globSync, mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

// Tests start the commands hundreds of times, from sources whose types Node strips each time anew unless it may keep them.
const env = {
  NODE_COMPILE_CACHE: mkdtempSync(join(tmpdir(), 'node-compile-cache-')),
  // A test that starts a command through npm must not have `node_modules` emptied under all of them.
  LINEKEEPER_INSTALL: 'never',
};

const FILES = ['tests/**/*.test.{ts,tsx}'];

/** Files that put another module in the place of one that others read as it is: they share nothing with other files. */
const REPLACING = globSync(FILES, { cwd: import.meta.dirname }).filter((file) =>
  readFileSync(join(import.meta.dirname, file), 'utf8').includes('vi.mock('),
);

// The default leaves one processor to the runner, which on a machine of two halves the speed.
const common = { testTimeout: 120_000, env, pool: 'threads', maxWorkers: 2 } as const;

export default defineConfig({
  test: {
    projects: [
      {
        // Tests leave nothing behind: their files share what a worker has read, which saves a good part of the time.
        test: {
          ...common,
          name: 'together',
          include: FILES,
          exclude: ['tests/e2e/**', ...REPLACING],
          isolate: false,
        },
      },
      { test: { ...common, name: 'apart', include: REPLACING } },
    ],
  },
});
