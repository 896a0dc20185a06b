/** What is left of a library whose host is killed, hundreds of times. */

import { killRounds, OLDEST_LOST_MS, type Round } from '../faults/kill-rounds.ts';
import { WORK_NAMES } from '../faults/works.ts';
import { type Bench, type Measure, percentile } from './bench.ts';

const ROUNDS = 300;
const SEED = 1;

function measureOf(name: string, rounds: readonly Round[]): Measure {
  const lostMs = rounds.map(({ oldestLostMs }) => oldestLostMs);
  return {
    name,
    unit: 'rounds, ms where named',
    values: {
      rounds: rounds.length,
      'rounds with a fault': rounds.filter(({ faults }) => faults.length > 0).length,
      'killed before it was over': rounds.filter(({ wasOver }) => !wasOver).length,
      'events played': rounds.reduce((sum, { played }) => sum + played, 0),
      'oldest lost event, median ms': percentile(lostMs, 0.5),
      'oldest lost event, most ms': Math.max(...lostMs),
    },
  };
}

export const faultsBench: Bench = {
  title: 'Faults',
  about: `A host is killed at ${ROUNDS} seeded moments. No round may have a fault: the library is sound, no event older than ${OLDEST_LOST_MS} ms is lost, nothing half-written has a name.`,
  async run() {
    const rounds = await killRounds(ROUNDS, SEED, ({ work, faults, killedAfterMs }, done) => {
      if (done % 25 === 0) process.stderr.write(`  ${done} of ${ROUNDS}\n`);
      for (const fault of faults) {
        process.stderr.write(`  ${work}, killed after ${Math.round(killedAfterMs)} ms: ${fault}\n`);
      }
    });
    return [
      measureOf('all', rounds),
      ...WORK_NAMES.map((work) =>
        measureOf(
          work,
          rounds.filter((round) => round.work === work),
        ),
      ),
    ];
  },
};
