/** Ten minutes of four MIDI ports as full as their wires, through the live take: its memory and its work, frame by frame. */

import { constants, PerformanceObserver } from 'node:perf_hooks';
import { z } from 'zod';
import type { Storm } from '../helpers/midi-storm.ts';
import { FRAME_MS, startStormyTake } from '../helpers/stormy-take.ts';
import { workingMs } from '../helpers/working-time.ts';
import { type Bench, distribution, type Measure, ratio } from './bench.ts';

const MINUTES = 10;
const PIECE_MS = 1000;

function heapMb(): number {
  globalThis.gc?.();
  return process.memoryUsage().heapUsed / 1024 / 1024;
}

/** Keeps how long the collector stopped the program, ms each; not when it was asked to. To be ended. */
function watchCollector(): { readonly pausesMs: readonly number[]; end(): void } {
  const pausesMs: number[] = [];
  const observer = new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) {
      const { duration, detail } = collectionSchema.parse(entry);
      if ((detail.flags & constants.NODE_PERFORMANCE_GC_FLAGS_FORCED) === 0)
        pausesMs.push(duration);
    }
  });
  observer.observe({ entryTypes: ['gc'] });
  return { pausesMs, end: () => observer.disconnect() };
}

const collectionSchema = z.object({
  duration: z.number(),
  detail: z.object({ flags: z.number() }),
});

async function played(name: string, storm: Storm): Promise<Measure> {
  const { live, counts, play } = startStormyTake(storm, false);
  const frames: number[] = [];
  const collector = watchCollector();
  const heaps: Record<string, number> = { 'minute 0': heapMb() };
  for (let minute = 0; minute < MINUTES; minute++) {
    for (let piece = 0; piece < 60_000 / PIECE_MS; piece++) {
      const fromMs = minute * 60_000 + piece * PIECE_MS;
      let before = workingMs();
      // The first frame of a piece makes the piece's messages too.
      let isFirst = true;
      play(fromMs, fromMs + PIECE_MS, () => {
        const now = workingMs();
        if (!isFirst) frames.push(now - before);
        isFirst = false;
        before = workingMs();
      });
      // What waits to be stored is sent meanwhile.
      await new Promise((resolve) => setTimeout(resolve, 0));
    }
    heaps[`minute ${minute + 1}`] = heapMb();
  }
  collector.end();
  const startMs = workingMs();
  const report = live.end(MINUTES * 60_000);
  await live.handIn();
  const endMs = workingMs() - startMs;
  const first = heaps['minute 1'] ?? 0;
  const last = heaps[`minute ${MINUTES}`] ?? 0;
  const eventsAfterFirst = (counts.events * (MINUTES - 1)) / MINUTES;
  const kept = ((last - first) * 1024 * 1024) / Math.max(1, eventsAfterFirst);
  const work = distribution('work in a frame', 'ms', frames);
  const messages = ['messages', counts.messages] as const;
  return {
    name,
    how: `${MINUTES} simulated minutes, ${report.slots.length} slots graded; the heap after a collection.`,
    figures: [
      ratio('heap, last minute to first', 'MB', ['last', last], ['first', first]),
      ratio('kept for an event of the take', 'bytes', ['kept', kept], ['as objects, about', 100]),
      work,
      ratio('the longest frame', 'ms', ['work', work.largest], ['a 60 Hz frame', FRAME_MS], 1),
      distribution(
        'the collector’s pauses on the wall clock, those for the bench’s own messages included',
        'ms',
        collector.pausesMs,
      ),
      ratio('events of the take to messages', 'messages', ['events', counts.events], messages),
      ratio('grading all of it at the end', 'ms', ['grading', endMs], ['a frame', FRAME_MS]),
    ],
  };
}

export const midiStressBench: Bench = {
  title: 'MIDI-stress',
  about:
    'Aims: heap flat where nothing is played, and growing by the events kept where much is; frames far below 16.7 ms; a system whose clock of a thread ticks every 4 ms gives no less. Run node with --expose-gc, or heaps hold what is not collected yet.',
  isLong: true,
  run: async (effort) =>
    effort === 'short'
      ? []
      : [
          await played('keys on four ports', { seed: 5, ports: 4, keys: 0.9 }),
          await played('clock and active sensing on four ports', { seed: 6, ports: 4, keys: 0 }),
        ],
};
