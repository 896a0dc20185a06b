/** The tests that mutants of a part of the core have to survive, run with few and always the same random cases. */

import { join } from 'node:path';
import { defineConfig } from 'vitest/config';

export function testsOf(include: readonly string[]) {
  return defineConfig({
    test: { include: [...include], testTimeout: 20_000 },
    plugins: [
      {
        name: 'few-runs',
        enforce: 'pre',
        resolveId(id, importer) {
          const isOurs = id === 'fast-check' && importer?.includes('/tests/mutation/') !== true;
          return isOurs ? join(import.meta.dirname, 'few-runs.ts') : null;
        },
      },
    ],
  });
}
