import { testsOf } from './tests-of.ts';

export default testsOf(
  ['tests/core/theory/**/*.test.ts', 'tests/reference/theory/**/*.test.ts'],
  // It goes through all contexts of every rule, for seconds; what it finds is found by the examples and the laws too.
  ['tests/core/theory/choice-rules.test.ts'],
);
