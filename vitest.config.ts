import { globSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { defineConfig } from 'vitest/config';
import { environment } from './tests/environment.ts';

const FILES = ['tests/**/*.test.{ts,tsx}'];

/** Files that put another module in the place of one that others read as it is: they share nothing with other files. */
const REPLACING = globSync(FILES, { cwd: import.meta.dirname }).filter((file) =>
  readFileSync(join(import.meta.dirname, file), 'utf8').includes('vi.mock('),
);

// The default leaves one processor to the runner, which on a machine of two halves the speed.
const common = { testTimeout: 120_000, env: environment, pool: 'threads', maxWorkers: 2 } as const;

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
