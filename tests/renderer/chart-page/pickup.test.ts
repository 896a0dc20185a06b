/** The pickup where it is seen and heard. Places are shares of its short bar, times a second for a beat, by hand. */

import { describe, expect, test } from 'vitest';
import { type Form, parseChart, unrollForm } from '../../../src/core/chart/index.ts';
import { createBeatClock } from '../../../src/core/grid/index.ts';
import { chordScore } from '../../../src/renderer/audio/index.ts';
import { drawPickup } from '../../../src/renderer/chart-page/pickup-drawing.ts';
import { placeInForm } from '../../../src/renderer/palette/palette-words.ts';

function formWith(pickup: string): Form {
  const chart = parseChart(`title: T\nkey: C\nmeter: 4/4\npickup: ${pickup}\n| Cmaj7 | F7 |\n`);
  const form = chart.ok ? unrollForm(chart.value, 'plain') : chart;
  if (!form.ok) throw new Error(JSON.stringify(form.problems));
  return form.value;
}

describe('drawn', () => {
  const note = (at: number, midi: number) => ({ at, length: 6, midi, name: '' });
  const register = { low: 60, high: 72 };

  test('from the left edge of its beats to the bar line, joined where notes follow each other', () => {
    const played = [note(-24, 60), note(-12, 66), note(-6, 72)];
    const drawing = drawPickup(formWith('2'), played, register);
    expect(drawing?.notes.map(({ x, y, faults }) => [x, y, faults])).toEqual([
      [0, 1, []],
      [0.5, 0.5, []],
      [0.75, 0, []],
    ]);
    expect(drawing?.strokes).toEqual([
      [
        { x: 0.5, y: 0.5 },
        { x: 0.75, y: 0 },
      ],
    ]);
  });

  test('not at all without notes, or without a pickup', () => {
    expect(drawPickup(formWith('2'), [], register)).toBeUndefined();
    expect(drawPickup({ pickup: null }, [note(-6, 60)], register)).toBeUndefined();
  });
});

describe('the chord in force', () => {
  const at = (pickup: string, beat: number) => {
    const place = placeInForm(formWith(pickup), beat);
    const { bar, chord, next, beatsLeft } = place ?? {};
    return [bar, chord?.symbol?.text, next?.symbol?.text, beatsLeft];
  };

  test('is that of the pickup while it lasts, and leads to the next other one', () => {
    expect(at('2 Dm7 G7', -1.75)).toEqual([0, 'Dm7', 'G7', 0.75]);
    expect(at('2 Dm7 G7', -0.5)).toEqual([0, 'G7', 'Cmaj7', 0.5]);
    expect(at('3/8 Dm7 G7', -1.25)).toEqual([0, 'Dm7', 'G7', 0.25]);
    expect(at('2 Cmaj7', -0.5)).toEqual([0, 'Cmaj7', 'F7', 4.5]);
  });

  test('is the first of the form where it has none, and before it', () => {
    expect(at('1', -0.5)).toEqual([0, 'Cmaj7', 'F7', 4.5]);
    expect(at('1 G7', -1.5)).toEqual([1, 'Cmaj7', 'F7', 4]);
    expect(at('1 G7', 0)).toEqual([1, 'Cmaj7', 'F7', 4]);
  });
});

test('bass and pad sound in it with its own chords, once, in order of time', () => {
  const heard = (pickup: string) => {
    const form = formWith(pickup);
    const clock = createBeatClock(form, { kind: 'steady', tempoBpm: 60 });
    const settings = { bass: 'root', pad: true, silentBars: { kind: 'none' } } as const;
    return [...chordScore(form, clock, 2, settings)];
  };
  const bass = heard('3/8 Dm7 G7').filter(({ kind }) => kind === 'bass');
  expect(bass.map(({ atMs }) => atMs)).toEqual([-1500, -1000, 0, 4000, 8000, 12_000]);
  expect(bass.slice(0, 2).map((event) => event.kind === 'bass' && event.midi % 12)).toEqual([2, 7]);
  const times = heard('3/8 Dm7 G7').map(({ atMs }) => atMs);
  expect(times).toEqual([...times].sort((one, other) => one - other));
  expect(heard('1')).toEqual(heard('2'));
});
