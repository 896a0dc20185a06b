// Everything that can be checked without looking: types, lint, then all tests.
import './check.mjs';
import { step } from './steps.mjs';

step('tests', 'vitest', ['run', ...process.argv.slice(2)]);
