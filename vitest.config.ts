import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

// Tests start the commands hundreds of times, from sources whose types Node strips each time anew unless it may keep them.
const env = { NODE_COMPILE_CACHE: mkdtempSync(join(tmpdir(), 'node-compile-cache-')) };

/** Pure functions leave nothing behind: their files share what a worker has read, which saves a third of the time. */
const PURE = ['tests/core/**/*.test.ts', 'tests/reference/**/*.test.ts'];

const common = { testTimeout: 120_000, env };

export default defineConfig({
  test: {
    projects: [
      { test: { ...common, name: 'pure', include: PURE, pool: 'threads', isolate: false } },
      {
        test: {
          ...common,
          name: 'others',
          include: ['tests/**/*.test.{ts,tsx}'],
          exclude: ['tests/e2e/**', ...PURE],
        },
      },
    ],
  },
});
