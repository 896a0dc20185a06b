/** How often verdicts, intervals and rates of gain are right about simulated players whose truth is known. */

import { gainCoverage, type Player } from '../core/progress/simulated-gain.ts';
import {
  falseWeakPlaces,
  followVerdicts,
  type Hand,
  INDEPENDENT,
  raisedWithin,
  wilsonCoverage,
} from '../core/progress/simulated-learners.ts';
import { type Bench, type Figure, type Measure, ratio } from './bench.ts';

const HANDS: readonly (readonly [name: string, hand: Hand])[] = [
  ['independent slots', INDEPENDENT],
  ['slots that go as the one before in 0.1', { ...INDEPENDENT, carry: 0.1 }],
  ['slots that go as the one before in 0.2', { ...INDEPENDENT, carry: 0.2 }],
  ['slots that go as the one before in 0.3', { ...INDEPENDENT, carry: 0.3 }],
  ['half of the faults in stumbles of three slots', { ...INDEPENDENT, stumbles: 0.5 }],
  ['bars that are always harder', { ...INDEPENDENT, unevenness: 1 }],
  ['bars that are always harder, and stumbles', { carry: 0, stumbles: 0.25, unevenness: 0.7 }],
];

/** A share of all, with the most it should be. */
function share(of: string, value: number, atMost: number | null = null): Figure {
  return ratio(of, 'share', [of, value], ['all', 1], atMost);
}

/** Of each kind of hand: shares of raises to a quarter of a percent or so. */
const LEARNERS = 600;
/** Players of one kind. */
const GAINING = 2000;

const HOW = 'Seeded players whose true rate is known; the judgement of each is set against it.';

function career(hands: string, hand: Hand): Measure {
  const figures = [1, 2, 4].flatMap((choruses) => {
    const { raises, wrong, farWrong, eases } = followVerdicts(LEARNERS, hand, choruses, 1);
    const all = ['raises', raises] as const;
    const of = `takes of ${choruses === 1 ? 'one chorus' : `${choruses} choruses`}`;
    return [
      ratio(`wrong raises, true rate under 0.90, ${of}`, 'raises', ['wrong', wrong], all, 0.05),
      ratio(`far wrong raises, under 0.85, ${of}`, 'raises', ['far wrong', farWrong], all),
      ratio(`eases to raises, ${of}`, 'verdicts', ['eases', eases], all),
    ];
  });
  return {
    name: `${LEARNERS} learners following every verdict for two months, ${hands}`,
    how: HOW,
    figures,
  };
}

/** Rates under what a raise needs, and the most of such players that may be told to raise in 15 takes of two choruses. */
const TOO_LOW: readonly (readonly [rate: number, atMost: number | null])[] = [
  [0.85, 0.02],
  [0.88, null],
  [0.89, null],
];

function raised(hands: string, hand: Hand): Measure {
  const tooEarly = TOO_LOW.map(([rate, atMost]) =>
    share(
      `true rate ${rate}, 15 takes of two choruses`,
      raisedWithin({ takes: 15, choruses: 2 }, rate, hand, 1000, 2),
      atMost,
    ),
  );
  const inTime = [0.94, 0.95, 0.96, 0.97].flatMap((rate) =>
    [3, 5, 7, 10].map((takes) =>
      share(
        `true rate ${rate}, ${takes} takes of one chorus`,
        raisedWithin({ takes, choruses: 1 }, rate, hand, 1000, 2),
      ),
    ),
  );
  return { name: `told to raise, ${hands}`, how: HOW, figures: [...tooEarly, ...inTime] };
}

function intervals(hands: string, hand: Hand): Measure {
  return {
    name: `intervals and alarms, ${hands}`,
    how: HOW,
    figures: [
      share('Wilson interval holds the true rate', wilsonCoverage(hand.carry, 20_000, 3)),
      share('false weak place at 0.90', falseWeakPlaces(0.9, hand, 2000, 6), 0.05),
      share('false weak place at 0.95', falseWeakPlaces(0.95, hand, 2000, 4), 0.05),
      share('false weak place at 0.92', falseWeakPlaces(0.92, hand, 2000, 5), 0.05),
    ],
  };
}

const PLAYER: Player = { carry: 0, formBpm: 2, start: [0.85, 1.05], hand: INDEPENDENT };

const PLAYERS: readonly (readonly [name: string, player: Player])[] = [
  ['who begin near what they can', PLAYER],
  ['who begin far below it', { ...PLAYER, start: [0.6, 0.8] }],
  ['whose days differ by no form', { ...PLAYER, formBpm: 0 }],
  ['whose days differ much', { ...PLAYER, formBpm: 4 }],
  ['whose slots go as the one before in 0.2', { ...PLAYER, hand: { ...INDEPENDENT, carry: 0.2 } }],
  ['whose form lasts by 0.2', { ...PLAYER, carry: 0.2 }],
  ['whose form lasts by 0.5', { ...PLAYER, carry: 0.5 }],
];

function gain(): Measure {
  const figures = PLAYERS.flatMap(([name, player]) => {
    const { told, covered, biasBpm } = gainCoverage(GAINING, player, 6);
    return [
      share(`in its interval, of players ${name}`, covered / told),
      ratio('told', 'players', ['told', told], ['all', GAINING]),
      ratio('bias', 'bpm a week', ['bias', biasBpm], ['one', 1]),
    ];
  });
  return {
    name: 'the rate of gain lies in its interval',
    how: 'Seeded players who choose every tempo by the verdict on the takes before.',
    figures,
  };
}

export const verdictsBench: Bench = {
  title: 'Verdicts',
  about:
    'Invented learners, seeded. Intervals are stated as 95 %. Wrong raises should be under 5 in 100, players of a true rate of 0.85 who are told to raise within 15 takes of two choruses under 2 in 100, and missed ones at a true rate of 0.95 under 10 in 100 after five choruses. Verdicts allow for faults in clusters; the Wilson interval alone, which weak places are told by, does not.',
  run: async (effort) =>
    effort === 'short'
      ? []
      : [
          ...HANDS.flatMap(([name, hand]) => [career(name, hand), raised(name, hand)]),
          ...HANDS.filter(([, { stumbles, unevenness }]) => stumbles + unevenness === 0).map(
            ([name, hand]) => intervals(name, hand),
          ),
          gain(),
        ],
};
