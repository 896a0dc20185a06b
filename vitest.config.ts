import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

// Tests start the commands hundreds of times, from sources whose types Node strips each time anew unless it may keep them.
const env = { NODE_COMPILE_CACHE: mkdtempSync(join(tmpdir(), 'node-compile-cache-')) };

export default defineConfig({
  test: {
    include: ['tests/**/*.test.{ts,tsx}'],
    exclude: ['tests/e2e/**'],
    testTimeout: 60_000,
    env,
  },
});
