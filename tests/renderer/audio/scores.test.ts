/** What sounds when. Times by hand from `grading.md`, "Time and grid"; parts are own rules unless a source is named. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { createBeatClock } from '../../../src/core/grid/index.ts';
import { parseChordSymbol } from '../../../src/core/theory/index.ts';
import { padVoicing, secondBassPc } from '../../../src/renderer/audio/chord-score.ts';
import {
  type ClickSettings,
  chordScore,
  clickScore,
  cutPassage,
  mergeScores,
  type SoundEvent,
  takeScore,
} from '../../../src/renderer/audio/index.ts';
import { knock } from '../../../src/renderer/audio/knock.ts';
import { anyTake } from '../../helpers/arbitrary-take.ts';
import { formFromText } from '../../helpers/form-from-text.ts';

const FORM = formFromText('| C | Am | Dm | G7 |');
const AT_60 = createBeatClock(FORM, { kind: 'steady', tempoBpm: 60 });
const CLICK: ClickSettings = {
  countInBars: 1,
  on: 'everyBeat',
  accent: true,
  subdivision: 1,
  swing: 1,
  silentBars: { kind: 'none' },
};

function clicks(settings: Partial<ClickSettings>, form = FORM, choruses = 1): SoundEvent[] {
  const clock = createBeatClock(form, { kind: 'steady', tempoBpm: 60 });
  return [...clickScore(form, clock, choruses, { ...CLICK, ...settings })];
}
const times = (events: readonly SoundEvent[]): number[] => events.map(({ atMs }) => atMs / 1000);

describe('the click', () => {
  test('counts one bar in, then every beat, the first of each bar accented', () => {
    const all = clicks({});
    expect(times(all).slice(0, 6)).toEqual([-4, -3, -2, -1, 0, 1]);
    expect(all).toHaveLength(20);
    expect(all.slice(4, 9).map((event) => event.kind === 'click' && event.strength)).toEqual([
      'accent',
      'beat',
      'beat',
      'beat',
      'accent',
    ]);
  });

  test('counts two bars in when asked', () => {
    expect(times(clicks({ countInBars: 2 }))[0]).toBe(-8);
  });

  test('on 2 and 4 leaves 1 and 3 out, but not in the count-in', () => {
    expect(times(clicks({ on: 'twoAndFour' })).slice(0, 7)).toEqual([-4, -3, -2, -1, 1, 3, 5]);
  });

  test('halves of the beat swing: at 2 : 1 the second lies at two thirds', () => {
    const all = clicks({ subdivision: 2, swing: 2 }).filter(({ atMs }) => atMs >= 0);
    expect(all[1]?.atMs).toBeCloseTo(2000 / 3, 9);
    expect(all[1]).toMatchObject({ strength: 'sub' });
  });

  test('silent bars are silent: every fourth one, in the second chorus too', () => {
    const all = clicks({ silentBars: { kind: 'alternate', sounding: 3, silent: 1 } }, FORM, 2);
    const bars = new Set(all.filter(({ atMs }) => atMs >= 0).map(({ atMs }) => (atMs / 4000) | 0));
    expect([...bars]).toEqual([0, 1, 2, 4, 5, 6]);
  });

  test('bars chosen by number are silent in every chorus', () => {
    const all = clicks({ silentBars: { kind: 'chosen', bars: [2] } }, FORM, 2);
    const bars = new Set(all.filter(({ atMs }) => atMs >= 0).map(({ atMs }) => (atMs / 4000) | 0));
    expect([...bars]).toEqual([0, 2, 3, 4, 6, 7]);
  });

  test('a bar of 6/8 has two beats', () => {
    expect(times(clicks({}, formFromText('| C | F |', '6/8')))).toEqual([-2, -1, 0, 1, 2, 3]);
  });

  test('its samples begin with the loudest and stay within bounds', () => {
    for (const strength of ['accent', 'beat', 'sub'] as const) {
      const samples = [...knock(strength, 44_100)];
      expect(samples[0]).toBe(Math.max(...samples.map(Math.abs)));
      expect(samples[0]).toBeLessThanOrEqual(1);
      expect(Math.abs(samples.at(-1) ?? 1)).toBeLessThan(0.002);
    }
  });
});

function symbol(text: string) {
  const parsed = parseChordSymbol(text);
  if (!parsed.ok) throw new Error(text);
  return parsed.value;
}

describe('bass and pad', () => {
  const bass = (part: 'root' | 'rootFifth', form = FORM): readonly (readonly number[])[] =>
    [
      ...chordScore(form, AT_60, 1, { bass: part, pad: false, silentBars: { kind: 'none' } }),
    ].flatMap((event) => (event.kind === 'bass' ? [[event.atMs / 1000, event.midi]] : []));

  test('roots lie on each chord’s first beat, from the low E up', () => {
    expect(bass('root')).toEqual([
      [0, 36],
      [4, 33],
      [8, 38],
      [12, 31],
    ]);
  });

  test('root and fifth share the chord’s beats', () => {
    expect(bass('rootFifth').slice(0, 4)).toEqual([
      [0, 36],
      [2, 31],
      [4, 33],
      [6, 28],
    ]);
  });

  test('the fifth is the chord’s own: diminished, augmented; under a slash chord it is the root', () => {
    expect(secondBassPc(symbol('Bm7b5'))).toBe(5);
    expect(secondBassPc(symbol('Caug'))).toBe(8);
    expect(secondBassPc(symbol('C/E'))).toBe(0);
  });

  test('N.C. is silent', () => {
    expect(bass('root', formFromText('| N.C. | C |'))).toEqual([[4, 36]]);
  });

  test('the pad leaves the root to the bass, and moves as little as it can', () => {
    const first = padVoicing(symbol('Dm7'), []);
    expect(first.map((midi) => midi % 12).sort((a, b) => a - b)).toEqual([0, 5, 9]);
    const second = padVoicing(symbol('G7'), first);
    const moved = second.reduce((sum, midi, at) => sum + Math.abs(midi - (first[at] ?? midi)), 0);
    expect(moved).toBeLessThanOrEqual(8);
  });
});

test('a merged score is in order of time and holds every sound of its parts', () => {
  const event = (atMs: number): SoundEvent => ({ kind: 'click', atMs, strength: 'beat' });
  const anyScore = fc
    .array(fc.integer({ min: 0, max: 50 }), { maxLength: 20 })
    .map((all) => all.sort((a, b) => a - b).map(event));
  fc.assert(
    fc.property(fc.array(anyScore, { maxLength: 4 }), (scores) => {
      const merged = [...mergeScores(...scores.map((score) => score.values()))];
      expect(times(merged)).toEqual(times(scores.flat()).sort((a, b) => a - b));
    }),
  );
});

describe('a passage', () => {
  test('at half speed lies twice as far, and counts from its start', () => {
    const passage = { fromMs: 4000, toMs: 6000, speed: 0.5 };
    expect(times([...cutPassage(clicks({}), passage)])).toEqual([0, 2]);
  });
});

describe('a take heard again', () => {
  test('sounds each key-down once, at its time without latency', () => {
    fc.assert(
      fc.property(anyTake, (take) => {
        const downs = take.events.filter((event) => event.kind === 'noteOn' && event.velocity > 0);
        const score = takeScore(take, { latencyMs: 25 });
        expect(score.map(({ atMs }) => atMs)).toEqual(downs.map(({ atMs }) => atMs - 25));
      }),
    );
  });

  test('a key let go under the pedal sounds until the pedal is up', () => {
    const [note] = takeScore(
      {
        endMs: 2000,
        sources: [],
        breaks: [],
        events: [
          { kind: 'noteOn', atMs: 0, midi: 60, velocity: 80 },
          { kind: 'pedal', atMs: 50, down: true },
          { kind: 'noteOff', atMs: 100, midi: 60 },
          { kind: 'pedal', atMs: 900, down: false },
        ],
      },
      {},
    );
    expect(note).toMatchObject({ durationMs: 900 });
  });

  test('keyboards hold, damp and lose their own keys only, each with its own latency', () => {
    const score = takeScore(
      {
        endMs: 2000,
        sources: [
          { name: 'Piano', latencyMs: 10, splitMidi: null },
          { name: 'Organ', latencyMs: 80, splitMidi: null },
        ],
        breaks: [],
        events: [
          { kind: 'noteOn', atMs: 100, midi: 60, velocity: 80 },
          { kind: 'pedal', atMs: 110, down: true },
          { kind: 'noteOn', atMs: 120, midi: 60, velocity: 70, source: 1 },
          { kind: 'noteOff', atMs: 200, midi: 60, source: 1 },
          { kind: 'noteOff', atMs: 300, midi: 60 },
          { kind: 'noteOn', atMs: 310, midi: 64, velocity: 70, source: 1 },
          { kind: 'allOff', atMs: 500, cause: 'disconnect' },
        ],
      },
      {},
    );
    expect(score).toEqual([
      { kind: 'note', atMs: 40, midi: 60, velocity: 70, durationMs: 80 },
      { kind: 'note', atMs: 90, midi: 60, velocity: 80, durationMs: 400 },
      { kind: 'note', atMs: 230, midi: 64, velocity: 70, durationMs: 1690 },
    ]);
  });
});
