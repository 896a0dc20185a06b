import { defineConfig } from 'vitest/config';

export default defineConfig({
  test: {
    include: ['tests/e2e/**/*.test.ts'],
    testTimeout: 90_000,
    hookTimeout: 90_000,
    fileParallelism: false,
    // A machine with other work to do draws late; what never comes still fails.
    expect: { poll: { timeout: 15_000 } },
  },
});
