/** The figures as one JSON document, and as words for a terminal. */

import { z } from 'zod';
import type { Figure } from './bench.ts';

const amountSchema = z.strictObject({ name: z.string(), value: z.number() });

const figureSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('ratio'),
    name: z.string(),
    unit: z.string(),
    value: z.number(),
    of: amountSchema,
    to: amountSchema,
    atMost: z.number().nullable(),
  }),
  z.strictObject({
    kind: z.literal('distribution'),
    name: z.string(),
    unit: z.string(),
    samples: z.int().min(1),
    median: z.number(),
    p95: z.number(),
    p99: z.number(),
    largest: z.number(),
  }),
]);

const measureSchema = z.strictObject({
  name: z.string(),
  how: z.string(),
  figures: z.array(figureSchema).min(1).readonly(),
});

const resultSchema = z.strictObject({
  title: z.string(),
  about: z.string(),
  measures: z.array(measureSchema).readonly(),
});

/** What `npm run bench -- --json` prints. */
export const documentSchema = z.strictObject({
  schema: z.literal('linekeeper.bench/2'),
  /** Date of the run, UTC. */
  date: z.iso.date(),
  effort: z.enum(['full', 'short']),
  machine: z.strictObject({
    node: z.string(),
    platform: z.string(),
    processors: z.int(),
    processor: z.string(),
    /** How many programs wanted a processor on average, over the minute before and after. */
    load: z.strictObject({ before: z.number(), after: z.number() }),
  }),
  results: z.array(resultSchema).readonly(),
});

export type BenchDocument = z.infer<typeof documentSchema>;

/** A number to three digits, without an exponent. */
export function short(value: number): string {
  return String(Math.abs(value) >= 100 ? Math.round(value) : Number(value.toPrecision(3)));
}

/** A figure as two cells: what it is, and how large. */
export function figureWords(figure: Figure): readonly [what: string, howLarge: string] {
  if (figure.kind === 'ratio') {
    const { name, unit, of, to, value, atMost } = figure;
    const aim = atMost === null ? '' : `, aim at most ${short(atMost)}`;
    const parts = `${of.name} ${short(of.value)}, ${to.name} ${short(to.value)} ${unit}`;
    return [name, `${short(value)}${aim} (${parts})`];
  }
  const { name, unit, median, p95, p99, largest, samples } = figure;
  const spread = `p95 ${short(p95)}, p99 ${short(p99)}, largest ${short(largest)}`;
  return [name, `median ${short(median)} ${unit} (${spread}; ${samples} samples)`];
}
