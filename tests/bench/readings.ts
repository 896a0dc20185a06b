/** How surely a misreading that was planted is found, how often one is told of that was not, and what looking for them costs. */

import { type Graded, gradeTake, readTake } from '../../src/core/grading/index.ts';
import { wilsonInterval } from '../../src/core/progress/index.ts';
import { READING_KINDS, type ReadingKind } from '../../src/core/words.ts';
import {
  isMostlyMisread,
  type Player,
  seededPlayer,
} from '../core/grading/readings/seeded-players.ts';
import { type Bench, type Figure, type Measure, median, ratio, timeRuns } from './bench.ts';

/** Of each kind, those alone whose faults mostly come of it. */
const PLAYERS = 400;
const PLAIN_PLAYERS = 3000;
/** Takes whose cost is measured, of each kind. */
const TIMED = 12;

const HOW =
  'Seeded players over starter charts and made-up ones, with a human spread and typical faults.';

function readingsOf(player: Player) {
  return readTake(player, null).report.readings;
}

function found(kind: ReadingKind): readonly Figure[] {
  let [planted, first] = [0, 0];
  for (let seed = 1; planted < PLAYERS; seed++) {
    const player = seededPlayer(seed, kind);
    if (!isMostlyMisread(player)) continue;
    planted++;
    const [reading] = readingsOf(player);
    if (reading !== undefined && player.planted?.isFound(reading)) first++;
  }
  const { lower } = wilsonInterval(first, planted);
  const all = ['planted', planted] as const;
  return [
    ratio(`${kind}: planted and told of first`, 'players', ['found', first], all),
    ratio(`${kind}: surely at least (95 %)`, 'players', ['lower bound', lower * planted], all),
  ];
}

function invented(): Figure {
  let told = 0;
  for (let seed = 1; seed <= PLAIN_PLAYERS; seed++) {
    if (readingsOf(seededPlayer(seed, null)).length > 0) told++;
  }
  return ratio('told of without one', 'players', ['told', told], ['all', PLAIN_PLAYERS], 1 / 200);
}

/** Grading and reading a take by turns, both medians of a few runs. */
function costOf(player: Player): readonly [gradeMs: number, readMs: number] {
  const played: Graded = player;
  const gradeMs = timeRuns(5, () => gradeTake(played.form, played.take, played.settings));
  const readMs = timeRuns(5, () => readTake(played, null));
  return [median(gradeMs), median(readMs)];
}

function cost(kind: ReadingKind | null): Figure {
  const costs = Array.from({ length: TIMED }, (_, index) => costOf(seededPlayer(index + 1, kind)));
  const [gradeMs, readMs] = [0, 1].map((place) => median(costs.map((both) => both[place] ?? 0)));
  return ratio(
    `${kind ?? 'none planted'}: graded and read`,
    'ms',
    ['graded and read', readMs ?? 0],
    ['graded', gradeMs ?? 0],
    8,
  );
}

function measures(): readonly Measure[] {
  return [
    { name: 'planted misreadings', how: HOW, figures: READING_KINDS.flatMap(found) },
    { name: `${PLAIN_PLAYERS} players without one`, how: HOW, figures: [invented()] },
    {
      name: 'what looking for readings costs, in gradings of the take',
      how: 'Median of five runs each, side by side, over takes of at least 192 slots.',
      figures: [cost(null), ...READING_KINDS.map(cost)],
    },
  ];
}

export const readingsBench: Bench = {
  title: 'Readings',
  about:
    'Misreadings of takes, planted in seeded players. Of those whose faults mostly come of the misreading, 99 in 100 should be told of it first, and of players without one fewer than 1 in 200. Looking for all kinds may cost eight gradings of the take.',
  isLong: true,
  run: async (effort) => (effort === 'short' ? [] : measures()),
};
