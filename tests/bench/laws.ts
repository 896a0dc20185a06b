/** The laws asked in full: `npm test` asks a seeded part of the same. */

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { z } from 'zod';
import { type Bench, distribution, ratio } from './bench.ts';

const root = join(import.meta.dirname, '..', '..');
const FOLDERS = ['tests/core', 'tests/reference', 'tests/main/store', 'tests/renderer/play'];

/** What is read of the report of the test runner. */
const reportSchema = z.object({
  numTotalTests: z.number(),
  numFailedTests: z.number(),
  testResults: z.array(
    z.object({ assertionResults: z.array(z.object({ duration: z.number().nullish() })) }),
  ),
});

export const lawsBench: Bench = {
  title: 'Laws',
  about:
    'Properties, simulations and the second grader, each asked as often as is said beside it. No test may fail; the seed of one that does is printed.',
  isLong: true,
  run: async (effort) => {
    if (effort === 'short') return [];
    const file = join(mkdtempSync(join(tmpdir(), 'laws-')), 'report.json');
    spawnSync(
      process.execPath,
      [
        join(root, 'node_modules', 'vitest', 'vitest.mjs'),
        ...['run', ...FOLDERS, '--testTimeout=3600000'],
        ...['--reporter=dot', '--reporter=json', `--outputFile.json=${file}`],
      ],
      { cwd: root, stdio: ['ignore', 2, 2], env: { ...process.env, ALL_RUNS: '1' } },
    );
    const report = reportSchema.parse(JSON.parse(readFileSync(file, 'utf8')));
    const durations = report.testResults.flatMap(({ assertionResults }) =>
      assertionResults.flatMap(({ duration }) => duration ?? []),
    );
    return [
      {
        name: 'all laws',
        how: `The tests of ${FOLDERS.join(', ')} with every count in full.`,
        figures: [
          ratio(
            'failures',
            'tests',
            ['failed', report.numFailedTests],
            ['tests', report.numTotalTests],
            0,
          ),
          distribution('time of a test', 'ms', durations),
        ],
      },
    ];
  },
};
