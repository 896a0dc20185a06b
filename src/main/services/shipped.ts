/** What comes with the program: starter charts and demo takes, read from the `shared` folder. */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import type { CallReply } from '../../../shared/bridge/index.ts';

const BUILT_IN = 'built-in:';

export interface ShippedChart {
  readonly chartId: string;
  readonly title: string;
  readonly text: string;
}

const demoListSchema = z.object({
  takes: z.array(
    z.object({
      file: z.string(),
      about: z.string(),
      chart: z.string(),
      plan: z.string(),
      level: z.string(),
      tempoBpm: z.number(),
      splitMidi: z.number().nullable(),
    }),
  ),
});

export interface Shipped {
  readonly charts: readonly ShippedChart[];
  readonly demos: CallReply<'demos.list'>;
  /** The bytes of a listed demo take, or null. */
  demoBytes(file: string): Uint8Array | null;
}

/** The id of a shipped chart by its file's name without ending. */
export function shippedChartId(name: string): string {
  return BUILT_IN + name;
}

export function isShippedChart(chartId: string): boolean {
  return chartId.startsWith(BUILT_IN);
}

/** Reads everything that is shipped, once. */
export function readShipped(sharedFolder: string): Shipped {
  const charts = readdirSync(join(sharedFolder, 'charts'))
    .filter((name) => name.endsWith('.chart'))
    .sort()
    .map((name) => {
      const text = readFileSync(join(sharedFolder, 'charts', name), 'utf8');
      const title = /^title:[ \t]*(.*)$/m.exec(text)?.[1]?.trim() ?? name;
      return { chartId: shippedChartId(name.replace(/\.chart$/, '')), title, text };
    });
  const list = readFileSync(join(sharedFolder, 'demo-takes', 'takes.json'), 'utf8');
  const demos = demoListSchema.parse(JSON.parse(list)).takes.map((take) => ({
    file: take.file,
    chartFile: take.chart,
    plan: take.plan,
    level: take.level,
    tempo: take.tempoBpm,
    split: take.splitMidi,
    about: take.about,
  }));
  return {
    charts,
    demos,
    demoBytes(file) {
      // Only what is listed is read: a name is no path.
      const isListed = demos.some((demo) => demo.file === file);
      return isListed ? readFileSync(join(sharedFolder, 'demo-takes', file)) : null;
    },
  };
}
