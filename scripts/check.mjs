// Types and lint: the core by its own rules, the Node side, the screens; and beside them the tests, which take as long as those.
import { stepsSideBySide } from './steps.mjs';

await stepsSideBySide(
  [
    ['core types', 'tsc', ['-p', 'src/core']],
    ['types', 'tsc', ['-p', '.']],
    ['screen types', 'tsc', ['-p', 'src/renderer']],
  ],
  [
    ['test types', 'tsc', ['-p', 'tests']],
    ['lint and format', 'biome', ['check', '.', '--error-on-warnings']],
  ],
);
