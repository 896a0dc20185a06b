/** What every bench piece gives back, and the few statistics they share. */

/** How one amount stands to another of the same unit, measured in one run: machines differ, the ratio hardly does. */
export interface Ratio {
  readonly kind: 'ratio';
  readonly name: string;
  readonly unit: string;
  readonly value: number;
  readonly of: Amount;
  readonly to: Amount;
  /** The most it should be, or null where nothing is aimed at. */
  readonly atMost: number | null;
}

export interface Amount {
  readonly name: string;
  readonly value: number;
}

/** How samples of one thing are spread. */
export interface Distribution {
  readonly kind: 'distribution';
  readonly name: string;
  readonly unit: string;
  readonly samples: number;
  readonly median: number;
  readonly p95: number;
  readonly p99: number;
  readonly largest: number;
}

export type Figure = Ratio | Distribution;

export interface Measure {
  readonly name: string;
  /** How it was measured, in a sentence or two. */
  readonly how: string;
  readonly figures: readonly Figure[];
}

/** How long a bench may take: `short` for a slice of it, which leaves out what needs a browser for long. */
export type Effort = 'full' | 'short';

export interface Bench {
  readonly title: string;
  /** How to read the figures, in one or two sentences. */
  readonly about: string;
  /** Takes minutes: run only when it is asked for by name. */
  readonly isLong?: boolean;
  run(effort: Effort): Promise<readonly Measure[]>;
}

export function ratio(
  name: string,
  unit: string,
  of: readonly [name: string, value: number],
  to: readonly [name: string, value: number],
  atMost: number | null = null,
): Ratio {
  const [ofName, ofValue] = of;
  const [toName, toValue] = to;
  return {
    kind: 'ratio',
    ...{ name, unit, atMost },
    value: ofValue / toValue,
    of: { name: ofName, value: ofValue },
    to: { name: toName, value: toValue },
  };
}

export function distribution(name: string, unit: string, samples: readonly number[]): Distribution {
  return {
    kind: 'distribution',
    ...{ name, unit, samples: samples.length },
    median: percentile(samples, 0.5),
    p95: percentile(samples, 0.95),
    p99: percentile(samples, 0.99),
    largest: percentile(samples, 1),
  };
}

/** The value below which a share of the samples lies. Samples need not be sorted. */
export function percentile(samples: readonly number[], share: number): number {
  const sorted = Float64Array.from(samples).sort();
  return sorted[Math.min(sorted.length - 1, Math.floor(share * sorted.length))] ?? Number.NaN;
}

/** Runs a function several times after a warm-up and gives the milliseconds of each run. */
export function timeRuns(runs: number, work: () => void): readonly number[] {
  work();
  work();
  return Array.from({ length: runs }, () => {
    const startMs = performance.now();
    work();
    return performance.now() - startMs;
  });
}

/** The median of samples. */
export function median(samples: readonly number[]): number {
  return percentile(samples, 0.5);
}
