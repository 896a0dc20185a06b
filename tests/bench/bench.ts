/** What every bench piece gives back, and the few statistics they share. */

/** One measured thing; `values` are figures by name in `unit`, or ratios where the name says so. */
export interface Measure {
  readonly name: string;
  readonly unit: string;
  readonly values: Readonly<Record<string, number>>;
}

export interface Bench {
  readonly title: string;
  /** How to read the figures, in one or two sentences. */
  readonly about: string;
  /** Takes minutes: run only when it is asked for by name. */
  readonly isLong?: boolean;
  run(): Promise<readonly Measure[]>;
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

/** The median of what `timeRuns` measured. */
export function medianMs(samplesMs: readonly number[]): number {
  return percentile(samplesMs, 0.5);
}
