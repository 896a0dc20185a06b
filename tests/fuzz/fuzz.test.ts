/**
 * A slice of every target, always the same inputs: none may throw anything but what its reader says, come back
 * changed, hang, or work longer than 200 ms for 64 kB. `npm run bench -- fuzz` runs a million.
 */

import { afterAll, describe, expect, test } from 'vitest';
import { openFuzzer } from './run-fuzz.ts';
import { TARGETS } from './targets/index.ts';

/** A hundredth. */
const INPUTS = 10_500;
const SEED = 1;

describe('spoilt inputs', () => {
  const fuzzer = openFuzzer();
  afterAll(() => fuzzer.end());

  test.each(TARGETS.map(({ name, share }) => [name, share] as const))(
    '%s are accepted or refused, and nothing else',
    { timeout: 120_000 },
    async (target, share) => {
      const count = Math.round((INPUTS * share) / 1000);
      const result = await fuzzer.run({ target, seed: SEED, from: 0, count });
      expect(result.failures).toEqual([]);
      expect(result.inputs).toBe(count);
      // Inputs that are all refused, or all accepted, would prove little.
      expect(result.accepted / count).toBeGreaterThan(0.05);
      expect(result.accepted / count).toBeLessThan(0.999);
    },
  );

  test('that end their worker are told with their number', { timeout: 60_000 }, async () => {
    const result = await fuzzer.run({ target: 'no such target', seed: SEED, from: 7, count: 1 });
    expect(result.failures.join()).toContain('no such target 7');
  });
});
