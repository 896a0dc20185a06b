import { testsOf } from './tests-of.ts';

export default testsOf([
  'tests/core/grading/**/*.test.ts',
  'tests/reference/grading/**/*.test.ts',
  'tests/reference/onset-matching.test.ts',
]);
