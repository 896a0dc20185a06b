/** What the main thread of a page did, told by the browser's own trace. */

import type { Page } from 'playwright';
import { z } from 'zod';

/** One piece of work: until it is over, nothing else runs and no frame is drawn. */
export interface Task {
  readonly startMs: number;
  /** Processor time: what other programs take away in the meantime is not in it. */
  readonly cpuMs: number;
}

export interface MainThread {
  readonly tasks: readonly Task[];
  /** When each key went down, on the clock of the tasks. */
  readonly keysMs: readonly number[];
}

const event = z.object({
  name: z.string(),
  ph: z.string(),
  tid: z.number(),
  pid: z.number(),
  ts: z.number().default(0),
  dur: z.number().default(0),
  tdur: z.number().default(0),
  args: z
    .object({
      name: z.string().optional(),
      data: z.object({ type: z.unknown() }).optional(),
    })
    .default({}),
});

/** Traces while something is done. Microseconds of the trace become milliseconds. */
export async function traceMainThread(page: Page, work: () => Promise<void>): Promise<MainThread> {
  const session = await page.context().newCDPSession(page);
  const told: unknown[] = [];
  session.on('Tracing.dataCollected', ({ value }) => told.push(...value));
  await session.send('Tracing.start', {
    transferMode: 'ReportEvents',
    traceConfig: {
      recordMode: 'recordAsMuchAsPossible',
      includedCategories: ['devtools.timeline', 'disabled-by-default-devtools.timeline'],
    },
  });
  await work();
  const complete = new Promise((resolve) => session.on('Tracing.tracingComplete', resolve));
  await session.send('Tracing.end');
  await complete;
  await session.detach();
  const events = told.flatMap((one) => {
    const read = event.safeParse(one);
    return read.success ? [read.data] : [];
  });
  const main = events.find(({ name, args }) => name === 'thread_name' && args.name === MAIN);
  const own = events.filter(({ tid, pid }) => tid === main?.tid && pid === main.pid);
  return {
    tasks: own
      .filter(({ name, ph }) => name === 'RunTask' && ph === 'X')
      .map(({ ts, tdur }) => ({ startMs: ts / 1000, cpuMs: tdur / 1000 })),
    keysMs: own
      .filter(({ name, args }) => name === 'EventDispatch' && args.data?.type === 'keydown')
      .map(({ ts }) => ts / 1000),
  };
}

/** The main thread of a page, in the browser's words. */
const MAIN = 'CrRendererMain';
