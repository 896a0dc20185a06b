/** How a practice stands, and that every screen says the same of it. Own rules, at the heads of `standing.ts` and `due.ts`. */

import { describe, expect, test } from 'vitest';
import { journalOf, type Standings, teacherReport } from '../../../src/core/journal/index.ts';
import {
  describeItem,
  describeReadiness,
  describeRung,
  describeStanding,
  isPlayed,
  ladderOf,
  type PlayedTake,
  type PlayItem,
  type Practice,
  practiceId,
  practicesOf,
  proposeSession,
  type SessionChart,
  type Standing,
  standingOf,
} from '../../../src/core/progress/index.ts';
import { runs } from '../../helpers/runs.ts';
import { between, chanceOf } from './chance.ts';
import { NOW, NOW_MS, practice, TODAY, take } from './takes.ts';

const LEVELS = ['steps', 'thirds', 'leaps', 'free'] as const;
const KEYS = ['Dm', 'Gm', 'Cm'];
const TEMPOS = [60, 62, 66, 72, 80];

interface Library {
  readonly takes: readonly PlayedTake[];
  readonly charts: readonly SessionChart[];
}

/** Charts with and without a goal, and takes good and bad, whole and short, over a year. */
function libraryOf(seed: number): Library {
  const chance = chanceOf(seed);
  const oneOf = <Value>(values: readonly Value[]): Value | undefined =>
    values[Math.floor(chance() * values.length)];
  const charts = ['pier', 'swell', 'lamp'].map((chartId, index): SessionChart => {
    const goalBpm = index === 2 ? null : Math.round(between(chance, 60, 90));
    return { chartId, chartTitle: chartId, plans: ['plain', 'side door'], keys: KEYS, goalBpm };
  });
  const takes = Array.from({ length: 4 + Math.floor(chance() * 60) }, () => {
    const slots = chance() < 0.15 ? 20 : 64;
    const chartId = oneOf(charts)?.chartId ?? 'pier';
    return take({
      ...{ chartId, chartTitle: chartId, plan: chance() < 0.2 ? 'side door' : 'plain' },
      ...{ level: oneOf(LEVELS) ?? 'steps', key: oneOf(KEYS) ?? 'Dm' },
      ...{ tempoBpm: oneOf(TEMPOS) ?? 60, slots },
      clean: Math.min(slots, Math.round(slots * between(chance, 0.6, 1.1))),
      daysAgo: chance() < 0.5 ? between(chance, 0, 20) : between(chance, 0, 365),
    });
  });
  return { takes, charts };
}

const goalIn = ({ charts }: Library, { chartId }: Practice): number | null =>
  charts.find((chart) => chart.chartId === chartId)?.goalBpm ?? null;

interface Told {
  readonly practice: Practice;
  readonly standing: Standing;
}

/** As Progress tells them. */
function standingsIn(library: Library): readonly Told[] {
  return practicesOf(library.takes, NOW_MS).map((one) => ({
    practice: one,
    standing: standingOf(one, goalIn(library, one), TODAY),
  }));
}

const hasGoalHeld = ({ heldBpm, goalBpm }: Standing): boolean =>
  heldBpm !== null && goalBpm !== null && heldBpm >= goalBpm;

/** What is said of each library in so many of them, whatever is said. */
function inLibraries(tell: (library: Library, told: readonly Told[]) => void): void {
  for (let seed = 1; seed <= runs(2000, 40); seed++) {
    const library = libraryOf(seed);
    tell(library, standingsIn(library));
  }
}

describe('a practice is due', () => {
  test('within two weeks of its last day until its goal has held; from then on spacing decides', () => {
    const seen = { ahead: 0, held: 0, untold: 0 };
    inLibraries((_library, told) => {
      for (const { practice: own, standing } of told) {
        const { due, daysSince } = standing;
        const { memory } = own;
        if (memory === null) {
          seen.untold++;
          expect(due.inDays).toBe(1 - daysSince);
        } else if (hasGoalHeld(standing)) {
          seen.held++;
          expect(due.inDays).toBe(memory.dueDay - TODAY);
        } else {
          seen.ahead++;
          expect(due.inDays).toBeLessThanOrEqual(14 - daysSince);
          expect(due.inDays).toBe(Math.min(memory.dueDay, memory.lastDay + 14) - TODAY);
        }
      }
    });
    for (const count of Object.values(seen)) expect(count).toBeGreaterThan(20);
  });

  test('and has not gone stale while spacing lets it rest', () => {
    let stale = 0;
    inLibraries((_library, told) => {
      for (const { standing } of told) {
        const isStale = describeStanding(standing).includes('stale');
        if (isStale) stale++;
        expect(isStale).toBe(standing.due.inDays < -14);
      }
    });
    expect(stale).toBeGreaterThan(20);
  });
});

/** The ways a raise, a hold or an ease is said of one tempo. */
const saysOf = ({ advice }: Standing): string => describeReadiness(advice.verdict, advice.tempoBpm);

test('one practice says one thing in Today, on the ladder and in the report for a teacher', () => {
  const compared = { due: 0, nearRaise: 0, weakPlace: 0, newThing: 0, rungs: 0, reports: 0 };
  inLibraries((library, told) => {
    const { charts } = library;
    const byId = new Map(told.map((one) => [practiceId(one.practice), one]));

    const { items, spare } = proposeSession({
      ...{ minutes: 60, limitLeftMinutes: null, locked: [], skippedIds: [], drillTakes: [] },
      ...{ practices: told.map((one) => one.practice), charts, ...NOW },
    });
    const proposed = [
      ...items.filter(isPlayed),
      ...spare.map((one): PlayItem => ({ ...one, kind: one.why.kind, minutes: 5 })),
    ];
    const due = new Set(
      proposed.filter(({ kind }) => kind === 'due').map(({ play }) => practiceId(play)),
    );
    const wanted = told.filter(({ standing }) => standing.due.inDays <= 0);
    expect(due).toEqual(new Set(wanted.map((one) => practiceId(one.practice))));
    for (const item of proposed) {
      compared[item.kind]++;
      const { why, play } = item;
      const standing = byId.get(practiceId(play))?.standing;
      if (why.kind === 'due') {
        expect(describeStanding(standing ?? raise('no standing'))).toMatch(
          /Due (today|since|for)|stale/,
        );
        expect(why.daysSince).toBe(standing?.daysSince);
        if (standing?.holdsBpm !== null) expect(play.tempoBpm).toBe(standing?.holdsBpm);
      }
      if (why.kind === 'nearRaise') {
        expect([why.presentBpm, play.tempoBpm]).toEqual([
          standing?.advice.tempoBpm,
          standing?.advice.verdict.nextTempoBpm,
        ]);
        const isRaise = describeItem(item).startsWith('It holds at');
        expect(saysOf(standing ?? raise('no standing')).startsWith('Raise')).toBe(isRaise);
        if (isRaise) expect(why.presentBpm).toBe(standing?.holdsBpm);
      }
    }

    for (const chart of charts) {
      const own = told
        .map((one) => one.practice)
        .filter(({ chartId }) => chartId === chart.chartId);
      for (const rung of ladderOf(chart, own).rungs) {
        const standing = byId.get(practiceId({ ...rung, chartId: chart.chartId }))?.standing;
        if (standing === undefined) continue;
        compared.rungs++;
        expect(describeStanding(standing).startsWith(describeRung(rung))).toBe(true);
        expect(rung.state === 'done').toBe(hasGoalHeld(standing));
      }
    }

    const standings: Standings = new Map([...byId].map(([id, { standing }]) => [id, standing]));
    const { sessions } = journalOf(library.takes.map(journalTake), []);
    const report = teacherReport(sessions, TODAY - 400, TODAY, standings);
    for (const { practices } of report.charts) {
      for (const one of practices) {
        compared.reports++;
        expect(one.standing).toBe(byId.get(practiceId(one))?.standing);
      }
    }
  });
  for (const [what, count] of Object.entries(compared)) {
    expect(count, what).toBeGreaterThan(what === 'weakPlace' ? 0 : 20);
  }
});

function raise(what: string): never {
  throw new Error(what);
}

function journalTake({ evidence, ...own }: PlayedTake) {
  const { playedAtMs, slots, clean } = evidence;
  return {
    ...own,
    bars: null,
    startedAtMs: playedAtMs,
    minute: 0,
    endMs: 60_000,
    slots,
    clean,
    note: '',
  };
}

describe('advice', () => {
  const adviceOf = (own: Practice, goalBpm: number | null) =>
    standingOf(own, goalBpm, TODAY).advice;

  test('raises no further than a goal ahead, and beyond one that is reached', () => {
    const own = practice(take({ tempoBpm: 98 }));
    expect(adviceOf(own, 100).verdict.nextTempoBpm).toBe(100);
    expect(adviceOf(own, 98).verdict.nextTempoBpm).toBe(102);
    expect(adviceOf(own, null).verdict.nextTempoBpm).toBe(102);
  });

  test('goes on from the fastest tempo that holds where a slower one was played last and holds too', () => {
    const fast = take({ tempoBpm: 72, daysAgo: 3 });
    expect(adviceOf(practice(fast, take({ tempoBpm: 60 })), 100)).toMatchObject({
      tempoBpm: 72,
      verdict: { nextTempoBpm: 75 },
    });
    expect(adviceOf(practice(fast, take({ tempoBpm: 60, clean: 20 })), 100)).toMatchObject({
      tempoBpm: 60,
      verdict: { verdict: 'ease' },
    });
  });
});

test('what has held is no less than what holds, though an older take had to be forgotten first', () => {
  // At its end the newest take was held back by the older ones; by now they are out of the month.
  const weak = { bars: [{ bar: 1, slots: 64, clean: 40 }] };
  const own = practice(
    take({ daysAgo: 31, tempoBpm: 66, clean: 40, evidence: { choruses: 1, ...weak } }),
    take({ daysAgo: 29, tempoBpm: 66, evidence: { choruses: 1 } }),
    take({ daysAgo: 28, tempoBpm: 66, evidence: { choruses: 1 } }),
  );
  const standing = standingOf(own, 66, TODAY);
  expect(standing.holdsBpm).toBe(66);
  expect(standing.heldBpm).toBe(66);
});
