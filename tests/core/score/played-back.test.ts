/** A line played back: compared note for note, slot by slot, or by place where the rhythm is free. */

import { describe, expect, test } from 'vitest';
import { gradeTake } from '../../../src/core/grading/index.ts';
import { takeOfLine, writeLine } from '../../../src/core/line/index.ts';
import { comparePlayedBack, modelOf } from '../../../src/core/score/index.ts';
import type { TakeEvent } from '../../../src/core/take/model.ts';
import { LEVELS, type Level } from '../../../src/core/words.ts';
import { formFromText } from '../../helpers/form-from-text.ts';

const form = formFromText('| Dm7 | G7 | Cmaj7 | A7 |');
const tempo = { kind: 'steady', tempoBpm: 90 } as const;

function heard(level: Level) {
  const line = writeLine(form, {
    ...{
      level,
      choruses: 1,
      slotsPerBeat: null,
      swing: 1,
      seed: 5,
      density: 0.3,
      startMidi: null,
      style: 'teaching',
      direction: 0,
    },
    register: { lowestMidi: 55, highestMidi: 84 },
  });
  if (!line.ok) throw new Error(JSON.stringify(line.problems));
  return { model: modelOf(form, line.value), take: takeOfLine(line.value, tempo.tempoBpm) };
}

function compare(level: Level, change: (event: TakeEvent) => readonly TakeEvent[] = (e) => [e]) {
  const { model, take } = heard(level);
  const played = { ...take, events: take.events.flatMap(change) };
  const report = gradeTake(form, played, { level, tempo, choruses: 1 });
  return { model, back: comparePlayedBack(form, report, model, null) };
}

describe('a line played back', () => {
  test.each(LEVELS)('as it was heard has every note, at %s', (level) => {
    const { model, back } = compare(level);
    expect(back.notes).toHaveLength(model.length);
    expect(back.notes.filter(({ verdict }) => verdict !== 'same')).toEqual([]);
    expect(back.added).toBe(0);
    expect(back.notes.map(({ expected }) => expected)).toEqual(model.map(({ name }) => name));
  });

  test('an octave higher is told from another note, and a missing one from both', () => {
    const beatMs = 60_000 / 90;
    const { back } = compare('leaps', (event) => {
      if (event.kind !== 'noteOn' && event.kind !== 'noteOff') return [event];
      const slot = Math.floor((event.atMs + 1) / (beatMs / 2));
      if (slot === 3) return [{ ...event, midi: event.midi + 12 }];
      if (slot === 9) return [{ ...event, midi: event.midi + 1 }];
      if (slot === 14) return [];
      return [event];
    });
    const wrong = back.notes.filter(({ verdict }) => verdict !== 'same');
    expect(wrong.map(({ bar, beat, verdict }) => [bar, beat, verdict])).toEqual([
      [1, 2, 'octave'],
      [2, 1, 'other'],
      [2, 4, 'missing'],
    ]);
  });

  test('broken off counts only what was reached', () => {
    const { back } = compare('steps', (event) => (event.atMs < 2000 ? [event] : []));
    expect(back.notes.map(({ verdict }) => verdict)).toEqual(Array(6).fill('same'));
  });

  test('at free a note between those of the line is one added', () => {
    const { take, model } = heard('free');
    const extra: TakeEvent[] = [{ kind: 'noteOn', atMs: 60_000 / 90 / 4, midi: 79, velocity: 70 }];
    const events = [...take.events, ...extra].sort((one, other) => one.atMs - other.atMs);
    const report = gradeTake(form, { ...take, events }, { level: 'free', tempo, choruses: 1 });
    const back = comparePlayedBack(form, report, model, null);
    expect(back.added).toBe(1);
    expect(back.notes.every(({ verdict }) => verdict === 'same')).toBe(true);
  });
});
