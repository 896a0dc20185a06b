// Everything that can be checked without looking: types, lint, unit and reference tests, then the program in Chromium. At
// the end a slice of the figures is printed, which no test judges.
import './check.mjs';
import { buildWhenStale } from './build-when-stale.mjs';
import { ensureChromium } from './ensure-chromium.mjs';
import { step } from './steps.mjs';

step('tests', 'vitest', ['run', ...process.argv.slice(2)]);
ensureChromium();
buildWhenStale();
step('end-to-end tests', 'vitest', ['run', '-c', 'vitest.e2e.config.ts']);
step('figures', 'node', ['tests/bench/run.ts', '--short']);
