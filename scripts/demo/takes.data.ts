/**
 * The demo takes. All of it is invented: lines by chance from a seed, timing modelled on published figures for
 * musicians (spread of 10–20 ms, a few ms of lead or lag), and the faults planted as listed.
 */

import type { DemoTake, Place } from './faults.ts';

function at(chorus: number, bar: number, beat: number, sub = 0): Place {
  return { chorus, bar, beat, sub };
}

const CLEAN = {
  plan: 'plain',
  level: 'steps',
  choruses: 2,
  splitMidi: null,
  lagMs: -6,
  dragMsPerBar: 0,
  spreadMs: 12,
  approaches: 0,
  planted: [],
} as const;

export const DEMO_TAKES: readonly DemoTake[] = [
  {
    ...CLEAN,
    file: 'first-evening.mid',
    about: 'Two slow choruses by step; everything holds.',
    chart: 'lantern-walk',
    tempoBpm: 66,
    seed: 11,
  },
  {
    ...CLEAN,
    file: 'late-at-seven.mid',
    about:
      'A blues by step. The change into bar 7 comes late in every chorus, and once into bar 10.',
    chart: 'boiler-room-blues',
    tempoBpm: 60,
    seed: 22,
    planted: [
      { kind: 'lateChange', at: at(1, 7, 1), bySlots: 2 },
      { kind: 'lateChange', at: at(2, 7, 1), bySlots: 3 },
      { kind: 'lateChange', at: at(2, 10, 1), bySlots: 2 },
    ],
  },
  {
    ...CLEAN,
    file: 'common-tones.mid',
    about:
      'Thirds allowed. Two changes are crossed on common tones alone: nothing wrong, nothing proven.',
    chart: 'fog-over-the-slipway',
    level: 'thirds',
    tempoBpm: 58,
    seed: 33,
    planted: [
      { kind: 'commonTonesOnly', at: at(1, 2, 1) },
      { kind: 'commonTonesOnly', at: at(2, 5, 1) },
    ],
  },
  {
    ...CLEAN,
    file: 'holes-in-the-waltz.mid',
    about: 'A waltz by step with three missing eighths, a slipped third and one note outside.',
    chart: 'snow-on-the-quay',
    tempoBpm: 72,
    seed: 44,
    lagMs: 4,
    planted: [
      { kind: 'gap', at: at(1, 4, 2, 1) },
      { kind: 'third', at: at(1, 6, 2) },
      { kind: 'gap', at: at(1, 12, 3) },
      { kind: 'outside', at: at(2, 2, 2) },
      { kind: 'gap', at: at(2, 8, 2) },
    ],
  },
  {
    ...CLEAN,
    file: 'heavy-tray.mid',
    about:
      'Through twelve keys by step. The notes are right; the time drags a little more every bar.',
    chart: 'twelve-lamps',
    tempoBpm: 56,
    seed: 55,
    lagMs: -10,
    dragMsPerBar: 0.9,
    spreadMs: 9,
  },
  {
    ...CLEAN,
    file: 'wide-water.mid',
    about:
      'Any interval in 12/8, with chromatic approaches and the left hand playing roots and shells.',
    chart: 'slow-swell',
    level: 'leaps',
    tempoBpm: 54,
    seed: 66,
    splitMidi: 58,
    approaches: 0.12,
    spreadMs: 11,
  },
  {
    ...CLEAN,
    file: 'loose-left-hand.mid',
    about:
      'A blues by step with the left hand: one bass note is missing, two are wrong. The line is clean.',
    chart: 'last-ferry-blues',
    tempoBpm: 60,
    choruses: 1,
    seed: 77,
    splitMidi: 58,
    planted: [
      { kind: 'bassOther', at: at(1, 3, 1) },
      { kind: 'bassMissing', at: at(1, 8, 3) },
      { kind: 'bassOther', at: at(1, 10, 1) },
    ],
  },
  {
    ...CLEAN,
    file: 'out-on-the-pier.mid',
    about: 'Free rhythm over six modes: rests, syncopation, long notes; every note inside.',
    chart: 'long-pier',
    level: 'free',
    tempoBpm: 66,
    choruses: 1,
    seed: 88,
    spreadMs: 14,
  },
  {
    ...CLEAN,
    file: 'until-closing-time.mid',
    about:
      'Six choruses in thirds: a double key, a hesitation caught up at once, and one late change.',
    chart: 'boiler-room-blues',
    level: 'thirds',
    tempoBpm: 72,
    choruses: 6,
    seed: 99,
    lagMs: -8,
    spreadMs: 13,
    planted: [
      { kind: 'double', at: at(2, 3, 2) },
      { kind: 'hesitation', at: at(3, 8, 2, 1), byMs: 235 },
      { kind: 'lateChange', at: at(5, 9, 1), bySlots: 1 },
      { kind: 'double', at: at(6, 11, 4, 1) },
    ],
  },
];
