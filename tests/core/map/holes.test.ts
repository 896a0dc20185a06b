/** Holes and habits: planted ones are found in players, and nothing in players who step at random. */

import { describe, expect, test } from 'vitest';
import type { Form } from '../../../src/core/chart/index.ts';
import { mapFindings } from '../../../src/core/findings/index.ts';
import { expectedFeatures, octavesOf } from '../../../src/core/map/baseline.ts';
import { countNotes } from '../../../src/core/map/count.ts';
import { featureCounts } from '../../../src/core/map/features.ts';
import { type Finding, findHoles } from '../../../src/core/map/holes.ts';
import type { MapNote } from '../../../src/core/map/model.ts';
import { layStretches, type Stretch } from '../../../src/core/map/stretches.ts';
import { randomWalk } from '../../../src/core/map/walk.ts';
import type { Level } from '../../../src/core/words.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { runs } from '../../helpers/runs.ts';

const REGISTER = { lowestMidi: 60, highestMidi: 84 };

/** Palettes of five to eight tones among them. */
const FORMS: readonly Form[] = [
  formFromText('| Cmaj7 | Am7 | Dm7 | G7 |\n| Em7 | A7 | Dm7 G7 | C6 |'),
  formFromText('| C7 <blues> | % | F7 | % |\n| Fm7 <minor pentatonic> | % | C7 | G7 |'),
  formFromText('| Cm7 | Fm7 | Dm7b5 | G7b9 <half-whole diminished> |'),
];

type Habit = 'none' | 'never the last tone' | 'always rising' | 'on the root' | 'one octave';

/**
 * A player who steps at random but for a habit. Numbers at random by a linear congruence of W. Press and others, Numerical
 * Recipes in C, 2nd ed., 1992, section 7.1; from memory.
 */
function played(form: Form, level: Level, habit: Habit, choruses: number, seed: number) {
  const stretches = layStretches(form);
  const walk = { level, slotsPerBeat: null, register: REGISTER, seed: 1 } as const;
  const places = randomWalk(form, stretches, walk, 1);
  const reach = level === 'steps' ? 1 : 2;
  let state = seed;
  const pick = (keys: readonly number[]): number => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return keys[Math.floor((state / 2 ** 32) * keys.length)] ?? 67;
  };
  let midi = 67;
  const notes: MapNote[] = [];
  for (let chorus = 0; chorus < choruses; chorus++) {
    for (const place of places) {
      const stretch = stretches.all[place.stretch];
      const isArrival = stretch?.isChange === true && notes.at(-1)?.stretch !== place.stretch;
      midi = pick(openKeys(stretch, midi, habit, isArrival, reach));
      notes.push({ ...place, midi });
    }
  }
  const counts = featureCounts(countNotes(stretches, notes), octavesOf(walk));
  return { counts, stretches };
}

function openKeys(
  stretch: Stretch | undefined,
  midi: number,
  habit: Habit,
  isArrival: boolean,
  reach: number,
): readonly number[] {
  const pcs = stretch?.pcs ?? [];
  const used = habit === 'never the last tone' ? pcs.slice(0, -1) : pcs;
  const highest = habit === 'one octave' ? 71 : REGISTER.highestMidi;
  const keys = Array.from({ length: highest - 59 }, (_, index) => 60 + index).filter((key) =>
    used.includes(key % 12),
  );
  const above = keys.filter((key) => key > midi).slice(0, reach);
  const below = keys.filter((key) => key < midi).slice(-reach);
  if (isArrival && habit === 'always rising' && above.length > 0) return above;
  if (isArrival && habit === 'on the root') {
    const roots = keys.filter((key) => key % 12 === pcs[0]);
    return roots
      .toSorted((one, other) => Math.abs(one - midi) - Math.abs(other - midi))
      .slice(0, 1);
  }
  return [...above, ...below];
}

const known = new Map<string, ReturnType<typeof expectedFeatures>>();
function expectedOf(form: Form, level: Level) {
  const name = `${FORMS.indexOf(form)} ${level}`;
  const before = known.get(name);
  if (before !== undefined) return before;
  const walk = { level, slotsPerBeat: null, register: REGISTER, seed: 20_261 } as const;
  const expected = expectedFeatures(form, layStretches(form), walk);
  known.set(name, expected);
  return expected;
}

function findingsOf(form: Form, level: Level, habit: Habit, choruses: number, seed: number) {
  const { counts, stretches } = played(form, level, habit, choruses, seed);
  return { found: findHoles(counts, expectedOf(form, level)), stretches: stretches.all };
}

const LEVELS_TRIED = ['steps', 'thirds'] as const;

test('of players who step at random fewer than 5 % have a hole or a habit', () => {
  const players = runs(3000);
  let wrong = 0;
  for (let seed = 1; seed <= players; seed++) {
    const form = FORMS[seed % FORMS.length];
    const level = LEVELS_TRIED[seed % LEVELS_TRIED.length];
    if (form === undefined || level === undefined) throw new Error('there are some of each');
    const choruses = 10 + (seed % 4) * 10;
    if (findingsOf(form, level, 'none', choruses, seed).found.length > 0) wrong++;
  }
  // Of so few players as `npm test` asks, chance alone may bring 4 where 3 % are wrong.
  expect(wrong).toBeLessThan(Math.max(5, players * 0.05));
});

describe('a planted habit is found in at least 90 %', () => {
  const habits: readonly {
    readonly habit: Exclude<Habit, 'none'>;
    readonly isIt: (finding: Finding, stretch: Stretch | undefined) => boolean;
  }[] = [
    {
      habit: 'never the last tone',
      isIt: ({ kind, feature }, stretch) =>
        kind === 'hole' && feature.kind === 'tone' && feature.pc === stretch?.pcs.at(-1),
    },
    {
      habit: 'always rising',
      isIt: ({ kind, feature }) =>
        kind === 'hole' && feature.kind === 'crossing' && feature.direction === 'falling',
    },
    {
      habit: 'on the root',
      isIt: ({ kind, feature }, stretch) =>
        kind === 'habit' && feature.kind === 'arrival' && feature.pc === stretch?.pcs[0],
    },
    {
      habit: 'one octave',
      isIt: ({ kind, feature }) =>
        kind === 'hole' && feature.kind === 'octave' && feature.octave === 5,
    },
  ];
  test.each(habits)('$habit', ({ habit, isIt }) => {
    const players = runs(1000, 24);
    let found = 0;
    for (let seed = 1; seed <= players; seed++) {
      const form = FORMS[seed % FORMS.length];
      const level = LEVELS_TRIED[seed % LEVELS_TRIED.length];
      if (form === undefined || level === undefined) throw new Error('there are some of each');
      const { found: holes, stretches } = findingsOf(form, level, habit, 30, seed);
      const isThere = holes.some((hole) =>
        isIt(hole, 'stretch' in hole.feature ? stretches[hole.feature.stretch] : undefined),
      );
      if (isThere) found++;
    }
    expect(found / players).toBeGreaterThanOrEqual(0.9);
  });
});

test('nothing is said of fewer than 80 notes or 20 crossings', () => {
  const [form] = FORMS;
  if (form === undefined) throw new Error('there is one');
  // 9 choruses of eight notes to a bar: 72 notes on a chord.
  const { found } = findingsOf(form, 'steps', 'on the root', 9, 1);
  expect(found.filter(({ feature }) => feature.kind !== 'octave')).toEqual([]);
});

test('a hole is said with its chord, bars and tone', () => {
  const form = formFromText('| Cm7 | % | F7 | Bbmaj7 |');
  const stretches = layStretches(form).all;
  const sentences = mapFindings({
    ...{ stretches, waiting: 0, takes: 1, leftOut: 0 },
    map: countNotes(layStretches(form), []),
    findings: [
      {
        ...{ kind: 'hole', count: 0, of: 120, expected: 0.14, lower: 0, upper: 0.03 },
        feature: { kind: 'tone', stretch: 0, pc: 9 },
      },
      {
        ...{ kind: 'hole', count: 1, of: 24, expected: 0.5, lower: 0, upper: 0.2 },
        feature: { kind: 'crossing', stretch: 1, direction: 'falling' },
      },
      {
        ...{ kind: 'habit', count: 24, of: 24, expected: 0.14, lower: 0.8, upper: 1 },
        feature: { kind: 'arrival', stretch: 1, pc: 5 },
      },
    ],
  });
  expect(sentences).toEqual([
    'Cm7 in bars 1–2: the A never, in 120 notes.',
    'the change to F7 in bar 3: falling 1 of 24 crossings, about 12 at random; arriving on F always, in 24 arrivals.',
  ]);
});
