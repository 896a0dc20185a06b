/** How a clean rate goes with other quantities: logistic regression of counts. */

import { inverse, Matrix, solve } from 'ml-matrix';

export interface Counts {
  /** What the rate may go with, each in a unit of a size about 1; as many for all. */
  readonly at: readonly number[];
  /** 0 ≤ `clean` ≤ `slots`. */
  readonly slots: number;
  readonly clean: number;
  /** What was counted under one name, a day say, may go well or badly together. */
  readonly group: number;
}

export interface LogisticFit {
  /** Log-odds: the constant first, then what each quantity adds. */
  readonly coefficients: readonly number[];
  /** Their covariances, widened by the dispersion. */
  readonly covariances: readonly (readonly number[])[];
  /** Degrees of freedom of the dispersion: groups less coefficients. */
  readonly freedom: number;
}

const MOST_STEPS = 40;
const EXACT = 1e-9;

/**
 * The likeliest log-odds, by Fisher scoring; null where there is none: fewer groups than are needed, a quantity that never
 * changes, or rates that are all clean on one side of a border. Faults come in clusters and days in forms: covariances
 * are those of independent slots times Pearson's dispersion of the groups, where that is over 1.
 * Source: P. McCullagh, J. A. Nelder, Generalized Linear Models, 2nd ed., 1989, sections 2.5 (scoring), 4.4 (logistic), 4.5
 * (over-dispersion; clusters of one group are summed); from memory.
 */
export function fitLogistic(counts: readonly Counts[]): LogisticFit | null {
  const [first] = counts;
  const groups = new Set(counts.map(({ group }) => group)).size;
  const freedom = groups - 1 - (first?.at.length ?? 0);
  if (first === undefined || freedom < 1) return null;
  const design = new Matrix(counts.map(({ at }) => [1, ...at]));
  let coefficients = Matrix.zeros(design.columns, 1);
  for (let step = 0; step < MOST_STEPS; step++) {
    const { score, information } = look(design, counts, coefficients);
    const change = attempt(() => solve(information, score));
    if (change === null) return null;
    coefficients = Matrix.add(coefficients, change);
    if (change.norm('max') < EXACT) {
      const { information: there, pearson } = look(design, counts, coefficients);
      const covariances = attempt(() => inverse(there).mul(Math.max(1, pearson / freedom)));
      return covariances === null
        ? null
        : { coefficients: coefficients.to1DArray(), covariances: covariances.to2DArray(), freedom };
    }
  }
  return null;
}

/** Derivatives of the log-likelihood, and how far the counts lie from it. */
function look(design: Matrix, counts: readonly Counts[], coefficients: Matrix) {
  const odds = design.mmul(coefficients).to1DArray();
  const score = Matrix.zeros(design.columns, 1);
  const information = Matrix.zeros(design.columns, design.columns);
  const byGroup = new Map<number, { off: number; variance: number }>();
  counts.forEach(({ slots, clean, group }, index) => {
    const rate = 1 / (1 + Math.exp(-(odds[index] ?? 0)));
    const variance = slots * rate * (1 - rate);
    const off = clean - slots * rate;
    const row = design.getRowVector(index);
    score.add(row.transpose().mul(off));
    information.add(row.transpose().mmul(row).mul(variance));
    const sum = byGroup.get(group) ?? { off: 0, variance: 0 };
    byGroup.set(group, { off: sum.off + off, variance: sum.variance + variance });
  });
  let pearson = 0;
  for (const { off, variance } of byGroup.values())
    if (variance > 0) pearson += off ** 2 / variance;
  return { score, information, pearson };
}

/** Null where a matrix has no inverse. */
function attempt(work: () => Matrix): Matrix | null {
  try {
    return work();
  } catch {
    return null;
  }
}
