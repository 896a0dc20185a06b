/** Ten minutes of four MIDI ports as full as their wires, through the live take: its memory and its work, frame by frame. */

import type { Storm } from '../helpers/midi-storm.ts';
import { FRAME_MS, startStormyTake } from '../helpers/stormy-take.ts';
import { workingMs } from '../helpers/working-time.ts';
import { type Bench, type Measure, percentile } from './bench.ts';

const MINUTES = 10;
const PIECE_MS = 1000;

function heapMb(): number {
  globalThis.gc?.();
  return process.memoryUsage().heapUsed / 1024 / 1024;
}

async function played(name: string, storm: Storm): Promise<readonly Measure[]> {
  const { live, counts, play } = startStormyTake(storm, false);
  const frames: number[] = [];
  const heaps: Record<string, number> = { 'minute 0': heapMb() };
  for (let minute = 0; minute < MINUTES; minute++) {
    for (let piece = 0; piece < 60_000 / PIECE_MS; piece++) {
      const fromMs = minute * 60_000 + piece * PIECE_MS;
      let before = workingMs();
      play(fromMs, fromMs + PIECE_MS, () => {
        const now = workingMs();
        frames.push(now - before);
        before = workingMs();
      });
      // What waits to be stored is sent meanwhile.
      await new Promise((resolve) => setTimeout(resolve, 0));
    }
    heaps[`minute ${minute + 1}`] = heapMb();
  }
  const startMs = workingMs();
  const { report } = await live.end(MINUTES * 60_000);
  const endMs = workingMs() - startMs;
  const first = heaps['minute 1'] ?? 0;
  const last = heaps[`minute ${MINUTES}`] ?? 0;
  const eventsAfterFirst = (counts.events * (MINUTES - 1)) / MINUTES;
  // The first frame of a piece makes the piece's messages too.
  const inside = frames.filter((_, index) => index % Math.round(PIECE_MS / FRAME_MS) !== 0);
  return [
    {
      name: `${name}: heap after collection`,
      unit: 'MB',
      values: {
        ...heaps,
        ...(eventsAfterFirst > 0 && {
          'bytes kept for an event': ((last - first) * 1024 * 1024) / eventsAfterFirst,
        }),
      },
    },
    {
      name: `${name}: work in a frame of 16.7 ms`,
      unit: 'ms of work',
      values: {
        messages: counts.messages,
        'events of the take': counts.events,
        slots: report.slots.length,
        'half of the frames': percentile(inside, 0.5),
        '99 % of the frames': percentile(inside, 0.99),
        '99.9 % of the frames': percentile(inside, 0.999),
        'the longest frame': percentile(inside, 1),
        'mean for a message': inside.reduce((sum, ms) => sum + ms, 0) / counts.messages,
        'grading all of it at the end': endMs,
      },
    },
  ];
}

export const midiStressBench: Bench = {
  title: 'MIDI-stress',
  about:
    'Aims: heap flat where nothing is played, and growing by the events kept where much is; frames far below 16.7 ms. Run node with --expose-gc, or heaps hold what is not collected yet.',
  isLong: true,
  run: async () => [
    ...(await played('keys on four ports', { seed: 5, ports: 4, keys: 0.9 })),
    ...(await played('clock and active sensing on four ports', { seed: 6, ports: 4, keys: 0 })),
  ],
};
