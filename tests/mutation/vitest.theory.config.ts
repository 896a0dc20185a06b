import { testsOf } from './tests-of.ts';

export default testsOf(['tests/core/theory/**/*.test.ts', 'tests/reference/theory/**/*.test.ts']);
