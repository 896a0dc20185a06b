/** How often verdicts, intervals and rates of gain are right about simulated players whose truth is known. */

import { gainCoverage } from '../core/progress/simulated-gain.ts';
import {
  falseWeakPlaces,
  followVerdicts,
  raisedWithin,
  wilsonCoverage,
} from '../core/progress/simulated-learners.ts';
import type { Bench, Measure } from './bench.ts';

const CARRIES = [0, 0.2] as const;

function name(carry: number): string {
  return carry === 0 ? 'independent slots' : `slots that go as the one before in ${carry}`;
}

function career(carry: number): Measure {
  const { raises, wrong, farWrong, eases } = followVerdicts(400, carry, 1);
  return {
    name: `400 learners following every verdict for two months, ${name(carry)}`,
    unit: 'count or share',
    values: {
      raises,
      'wrong: true rate under 0.90': wrong / raises,
      'far wrong: under 0.85': farWrong / raises,
      eases,
    },
  };
}

function raised(carry: number): Measure {
  const values: Record<string, number> = {};
  for (const rate of [0.88, 0.89, 0.899, 0.94, 0.95, 0.96, 0.97]) {
    for (const takes of [3, 5, 10]) {
      values[`true rate ${rate}, ${takes} choruses`] = raisedWithin(takes, rate, carry, 1000, 2);
    }
  }
  return { name: `told to raise, ${name(carry)}`, unit: 'share of players', values };
}

function intervals(carry: number): Measure {
  return {
    name: `intervals and alarms, ${name(carry)}`,
    unit: 'share of players',
    values: {
      'Wilson interval holds the true rate': wilsonCoverage(carry, 20_000, 3),
      'false weak place at 0.90': falseWeakPlaces(0.9, carry, 2000, 6),
      'false weak place at 0.95': falseWeakPlaces(0.95, carry, 2000, 4),
      'false weak place at 0.92': falseWeakPlaces(0.92, carry, 2000, 5),
    },
  };
}

function gain(): Measure {
  const values: Record<string, number> = {};
  for (const carry of [0, 0.2, 0.5]) {
    const { told, covered } = gainCoverage(4000, { carry }, 6);
    values[`form of the day lasting by ${carry}`] = covered / told;
  }
  return { name: 'the rate of gain lies in its interval', unit: 'share of players', values };
}

export const verdictsBench: Bench = {
  title: 'Verdicts',
  about:
    'Invented learners, seeded. Intervals are stated as 95 %. Wrong raises should be under 5 in 100 and missed ones at a true rate of 0.95 under 10 in 100 after five choruses; where slots cluster, intervals are too narrow.',
  run: async () => [
    ...CARRIES.flatMap((carry) => [career(carry), raised(carry), intervals(carry)]),
    gain(),
  ],
};
