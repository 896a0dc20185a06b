/**
 * Hosts killed at seeded moments while they record, save, back up, export, import, migrate and restore: a slice of
 * `npm run bench -- faults`. Own rule: nothing older than 250 ms is lost, nothing half-written is ever seen.
 */

import { expect, test } from 'vitest';
import { killRounds } from '../../faults/kill-rounds.ts';
import { WORK_NAMES } from '../../faults/works.ts';
import { runs } from '../../helpers/runs.ts';

test('a host that is killed leaves a sound library, whatever it was doing', {
  timeout: 900_000,
}, async () => {
  const rounds = await killRounds(WORK_NAMES, runs(300, WORK_NAMES.length), 20_260_314);
  expect(rounds.filter(({ faults }) => faults.length > 0)).toEqual([]);
  // Else nothing was tried: some were in the middle of it, and notes were played.
  expect(rounds.filter(({ wasOver }) => !wasOver).length).toBeGreaterThan(rounds.length / 4);
  expect(rounds.reduce((sum, { played }) => sum + played, 0)).toBeGreaterThan(rounds.length * 2.5);
});
