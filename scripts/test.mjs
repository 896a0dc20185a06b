// Everything that can be checked without looking: types, lint, unit and reference tests, and the program in Chromium. At
// the end a slice of the figures is printed, which no test judges.
import './check.mjs';
import { buildWhenStale } from './build-when-stale.mjs';
import { ensureChromium } from './ensure-chromium.mjs';
import { step, stepWithAnother } from './steps.mjs';

ensureChromium();
buildWhenStale();
// Tests in Chromium wait for page and host half of the time, in which the others work.
await stepWithAnother(
  ['tests, and end-to-end tests beside them', 'vitest', ['run', ...process.argv.slice(2)]],
  ['end-to-end tests', 'vitest', ['run', '-c', 'vitest.e2e.config.ts']],
);
await step('figures', 'node', ['tests/bench/run.ts', '--short']);
