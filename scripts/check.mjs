// Types and lint, the core by its own rules first.
import { step } from './steps.mjs';

step('core types', 'tsc', ['-p', 'src/core']);
step('types', 'tsc', ['-p', '.']);
step('screen types', 'tsc', ['-p', 'src/renderer']);
step('test types', 'tsc', ['-p', 'tests']);
step('lint and format', 'biome', ['check', '.', '--error-on-warnings']);
