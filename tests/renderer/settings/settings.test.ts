/** What is remembered: nothing stored can keep the program from starting. Own rules, no outside source. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { z } from 'zod';
import { settingsSchema } from '../../../shared/bridge/index.ts';
import { readPracticeChoice } from '../../../src/renderer/prepare/practice-choice.ts';
import { breakWords, minutesSinceBreak } from '../../../src/renderer/session/playing-time.ts';
import { formatBarNumbers, parseBarNumbers } from '../../../src/renderer/settings/bar-numbers.ts';
import {
  COMPUTER_KEYS,
  deviceFor,
  isUncalibrated,
  sourceOfDevice,
} from '../../../src/renderer/settings/devices.ts';
import {
  readPlayerSettings,
  storePlayerSettings,
} from '../../../src/renderer/settings/player-settings.ts';

const FIRST = readPlayerSettings({});

describe('settings', () => {
  test('read back what was stored', () => {
    const changed = { ...FIRST, breakEveryMinutes: 35, start: { kind: 'note' as const, midi: 21 } };
    const stored = settingsSchema.parse(JSON.parse(JSON.stringify(storePlayerSettings(changed))));
    expect(readPlayerSettings(stored)).toEqual(changed);
  });

  test('whatever stands in the library, there are settings and a choice', () => {
    fc.assert(
      fc.property(fc.jsonValue(), fc.jsonValue(), (player, sound) => {
        const json = z.json();
        const stored = {
          player: json.parse(JSON.parse(JSON.stringify({ player, sound }))),
          'practice x': json.parse(JSON.parse(JSON.stringify(player))),
        };
        expect(readPlayerSettings(stored).sound.volumes.click).toBeGreaterThan(0);
        expect(readPlayerSettings({ player: stored['practice x'] }).look.theme).toBe('system');
        expect(readPracticeChoice(stored, 'x').level).toBe('steps');
      }),
    );
  });

  test('one value that cannot be read costs no other', () => {
    const stored = { player: { sound: { click: 'loud', bass: 'none' }, breakEveryMinutes: 30 } };
    const read = readPlayerSettings(stored);
    expect([read.sound.click, read.sound.bass, read.breakEveryMinutes]).toEqual([
      'everyBeat',
      'none',
      30,
    ]);
  });

  // Once a yes or a no; a no stood there from the start and was nobody's choice. Own rule.
  test.each([
    [null, 'computerKeys'],
    [false, 'computerKeys'],
    [true, 'all'],
    ['none', 'none'],
    ['all', 'all'],
    ['loud', 'computerKeys'],
  ])('keys sounded: %j stored is %s', (soundKeys, read) => {
    expect(readPlayerSettings({ player: { sound: { soundKeys } } }).sound.soundKeys).toBe(read);
  });
});

describe('bar numbers', () => {
  test('written, they read back the same', () => {
    fc.assert(
      fc.property(fc.uniqueArray(fc.integer({ min: 1, max: 300 })), (some) => {
        const bars = some.sort((a, b) => a - b);
        expect(parseBarNumbers(formatBarNumbers(bars))).toEqual(bars);
      }),
    );
  });

  test.each([
    ['3-4, 7', [3, 4, 7]],
    [' 7 ,3–4,', [3, 4, 7]],
    ['', []],
    ['4-3', null],
    ['0', null],
    ['two', null],
  ])('%j is %j', (text, bars) => expect(parseBarNumbers(text)).toEqual(bars));
});

describe('devices', () => {
  const piano = {
    deviceName: 'Piano',
    outputName: 'this computer',
    latencyMs: 12,
    spreadMs: 4,
    splitMidi: 60,
    channel: 2,
  };

  test('the latency belongs to keyboard and output, the split to the keyboard', () => {
    expect(sourceOfDevice(deviceFor([piano], 'Piano', null))).toEqual({
      name: 'Piano',
      latencyMs: 12,
      splitMidi: 60,
    });
    expect(deviceFor([piano], 'Piano', 'Expander')).toEqual({
      ...piano,
      outputName: 'Expander',
      latencyMs: 0,
      spreadMs: null,
    });
    expect(deviceFor([piano], 'Other', null)).toMatchObject({ latencyMs: 0, splitMidi: null });
  });

  test('split and channel set with one output serve with another that is remembered without them', () => {
    const expander = {
      ...piano,
      outputName: 'Expander',
      latencyMs: 30,
      splitMidi: null,
      channel: null,
    };
    for (const devices of [
      [piano, expander],
      [expander, piano],
    ]) {
      expect(deviceFor(devices, 'Piano', 'Expander')).toEqual({
        ...expander,
        splitMidi: 60,
        channel: 2,
      });
      expect(deviceFor(devices, 'Piano', null)).toEqual(piano);
    }
  });

  test('one is uncalibrated until its latency is measured or set, with this very output', () => {
    expect(isUncalibrated(deviceFor([piano], 'Piano', null))).toBe(false);
    expect(isUncalibrated(deviceFor([piano], 'Piano', 'Expander'))).toBe(true);
    expect(isUncalibrated({ ...piano, spreadMs: null })).toBe(false);
    expect(isUncalibrated({ ...piano, latencyMs: 0 })).toBe(false);
    expect(isUncalibrated({ ...piano, latencyMs: 0, spreadMs: null })).toBe(true);
    expect(isUncalibrated(deviceFor([], COMPUTER_KEYS, null))).toBe(false);
  });
});

describe('breaks', () => {
  const minute = 60_000;

  test('minutes add up over short pauses, and end with a break of five', () => {
    const spans = [
      { fromMs: 0, toMs: 12 * minute },
      { fromMs: 14 * minute, toMs: 23 * minute },
    ];
    expect(minutesSinceBreak(spans, 24 * minute)).toBe(21);
    expect(minutesSinceBreak(spans, 28 * minute)).toBe(0);
    expect(minutesSinceBreak(spans, 27.9 * minute)).toBe(21);
    const rested = [{ fromMs: -20 * minute, toMs: -5 * minute }, ...spans];
    expect(minutesSinceBreak(rested, 24 * minute)).toBe(21);
  });

  test('a break is called for when the minutes are up, not before', () => {
    expect(breakWords(19.9, 20)).toBeNull();
    expect(breakWords(20, 20)).toContain('20 minutes');
    expect(breakWords(20, 20)).toContain('medical professional');
  });
});
