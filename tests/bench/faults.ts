/** What is left of a library whose host is killed, hundreds of times. */

import { killRounds, OLDEST_LOST_MS, type Round } from '../faults/kill-rounds.ts';
import { WORK_NAMES } from '../faults/works.ts';
import { type Bench, distribution, type Measure, ratio } from './bench.ts';

/** Of whole runs, with tabs closed and loaded again; and as many of all else that a host does. */
const ROUNDS = 300;
const SEED = 1;
const OTHER_WORKS = WORK_NAMES.filter((work) => work !== 'runs');

function measureOf(name: string, rounds: readonly Round[]): Measure {
  const lostMs = rounds.map(({ oldestLostMs }) => oldestLostMs);
  const all = ['rounds', rounds.length] as const;
  const faulty = rounds.filter(({ faults }) => faults.length > 0).length;
  const early = rounds.filter(({ wasOver }) => !wasOver).length;
  const lost = ['oldest lost event', Math.max(...lostMs)] as const;
  return {
    name,
    how: 'A host of its own for each round, killed at a moment drawn by the seed; then its library is opened and read.',
    figures: [
      ratio('rounds with a fault', 'rounds', ['with a fault', faulty], all, 0),
      ratio('killed before the work was over', 'rounds', ['killed before', early], all),
      distribution('age of the oldest lost event', 'ms', lostMs),
      ratio('oldest lost event', 'ms', lost, ['most it may be', OLDEST_LOST_MS], 1),
    ],
  };
}

function tell({ work, faults, killedAfterMs }: Round, done: number): void {
  if (done % 25 === 0) process.stderr.write(`  ${done} of ${ROUNDS}\n`);
  for (const fault of faults) {
    process.stderr.write(`  ${work}, killed after ${Math.round(killedAfterMs)} ms: ${fault}\n`);
  }
}

export const faultsBench: Bench = {
  title: 'Faults',
  about: `A host is killed at ${ROUNDS} seeded moments of whole runs, and at ${ROUNDS} of its other works. No round may have a fault: the library is sound, no event older than ${OLDEST_LOST_MS} ms is lost, nothing half-written has a name.`,
  async run(effort) {
    if (effort === 'short') return [];
    const rounds = [
      ...(await killRounds(['runs'], ROUNDS, SEED, tell)),
      ...(await killRounds(OTHER_WORKS, ROUNDS, SEED, tell)),
    ];
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
