/**
 * Hosts killed at seeded moments while they record, save, back up, export, import, migrate and restore: a slice of
 * `npm run bench -- faults`. Own rule: nothing older than 250 ms is lost, nothing half-written is ever seen.
 */

import { expect, test } from 'vitest';
import { killRounds } from '../../faults/kill-rounds.ts';

test('a host that is killed leaves a sound library, whatever it was doing', {
  timeout: 180_000,
}, async () => {
  const rounds = await killRounds(20, 20_260_314);
  expect(rounds.filter(({ faults }) => faults.length > 0)).toEqual([]);
  // Else nothing was tried: some were in the middle of it, and notes were played.
  expect(rounds.filter(({ wasOver }) => !wasOver).length).toBeGreaterThan(5);
  expect(rounds.reduce((sum, { played }) => sum + played, 0)).toBeGreaterThan(50);
});
