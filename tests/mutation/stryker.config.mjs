// Mutation testing of what judges: `npm run mutate`, told in docs/mutation.md.

const part = process.env.MUTATED_PART;
const kept = `out/mutation/${part}`;

export default {
  packageManager: 'npm',
  testRunner: 'vitest',
  plugins: ['@stryker-mutator/vitest-runner'],
  vitest: { configFile: `tests/mutation/vitest.${part}.config.ts`, related: false },
  // Tables are left out: the references read those row by row. Of index files nothing can be changed.
  mutate: [`src/core/${part}/**/*.ts`, '!src/core/**/index.ts', '!src/core/**/*.data.ts'],
  coverageAnalysis: 'perTest',
  // Nothing is to be rewritten: types are stripped, and TypeScript 7 has no programming interface to do it with.
  tsconfigFile: 'none.json',
  ignorePatterns: ['out', 'dist', 'docs', 'packaging', '.ci', 'tests/mutation/node_modules'],
  // Only what changed since the last run is tried again.
  incremental: true,
  incrementalFile: `${kept}/incremental.json`,
  tempDirName: `${kept}/sandbox`,
  reporters: ['clear-text', 'progress-append-only', 'json'],
  jsonReporter: { fileName: `${kept}/report.json` },
  clearTextReporter: { allowColor: false, logTests: false, reportTests: false },
  allowConsoleColors: false,
  concurrency: 2,
  timeoutMS: 15_000,
};
