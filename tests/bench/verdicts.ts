/** How often verdicts, intervals and rates of gain are right about simulated players whose truth is known. */

import { gainCoverage } from '../core/progress/simulated-gain.ts';
import {
  falseWeakPlaces,
  followVerdicts,
  raisedWithin,
  wilsonCoverage,
} from '../core/progress/simulated-learners.ts';
import { type Bench, type Figure, type Measure, ratio } from './bench.ts';

const CARRIES = [0, 0.2] as const;

function name(carry: number): string {
  return carry === 0 ? 'independent slots' : `slots that go as the one before in ${carry}`;
}

/** A share of all, with the most it should be. */
function share(of: string, value: number, atMost: number | null = null): Figure {
  return ratio(of, 'share', [of, value], ['all', 1], atMost);
}

const HOW = 'Seeded players whose true rate is known; the judgement of each is set against it.';

function career(carry: number): Measure {
  const { raises, wrong, farWrong, eases } = followVerdicts(400, carry, 1);
  const all = ['raises', raises] as const;
  return {
    name: `400 learners following every verdict for two months, ${name(carry)}`,
    how: HOW,
    figures: [
      ratio('wrong raises: true rate under 0.90', 'raises', ['wrong', wrong], all, 0.05),
      ratio('far wrong raises: under 0.85', 'raises', ['far wrong', farWrong], all),
      ratio('eases to raises', 'verdicts', ['eases', eases], all),
    ],
  };
}

function raised(carry: number): Measure {
  const figures = [0.88, 0.89, 0.899, 0.94, 0.95, 0.96, 0.97].flatMap((rate) =>
    [3, 5, 10].map((takes) =>
      share(
        `true rate ${rate}, ${takes} choruses`,
        raisedWithin(takes, rate, carry, 1000, 2),
        rate < 0.9 ? 0.05 : null,
      ),
    ),
  );
  return { name: `told to raise, ${name(carry)}`, how: HOW, figures };
}

function intervals(carry: number): Measure {
  return {
    name: `intervals and alarms, ${name(carry)}`,
    how: HOW,
    figures: [
      share('Wilson interval holds the true rate', wilsonCoverage(carry, 20_000, 3)),
      share('false weak place at 0.90', falseWeakPlaces(0.9, carry, 2000, 6), 0.05),
      share('false weak place at 0.95', falseWeakPlaces(0.95, carry, 2000, 4), 0.05),
      share('false weak place at 0.92', falseWeakPlaces(0.92, carry, 2000, 5), 0.05),
    ],
  };
}

function gain(): Measure {
  const figures = [0, 0.2, 0.5].map((carry) => {
    const { told, covered } = gainCoverage(4000, { carry }, 6);
    return share(`form of the day lasting by ${carry}`, covered / told);
  });
  return { name: 'the rate of gain lies in its interval', how: HOW, figures };
}

export const verdictsBench: Bench = {
  title: 'Verdicts',
  about:
    'Invented learners, seeded. Intervals are stated as 95 %. Wrong raises should be under 5 in 100 and missed ones at a true rate of 0.95 under 10 in 100 after five choruses; where slots cluster, intervals are too narrow.',
  run: async (effort) =>
    effort === 'short'
      ? []
      : [...CARRIES.flatMap((carry) => [career(carry), raised(carry), intervals(carry)]), gain()],
};
