/** The commands in the process of their tests: a program of its own for each case would take most of the time to start. */

import { vi } from 'vitest';
import { gradeTakes } from '../../src/main/grade-takes.ts';
import { printChart } from '../../src/main/print-chart.ts';
import { printLine } from '../../src/main/print-line.ts';

/** Runs the grade command on arguments: the code it would end with, and what it wrote. */
export function gradeHere(...args: readonly string[]) {
  return here(() => gradeTakes(args));
}

/** Runs the chart command so. */
export function chartHere(...args: readonly string[]) {
  return here(() => printChart(args));
}

/** Runs the line command so. */
export function lineHere(...args: readonly string[]) {
  return here(() => printLine(args));
}

function here(run: () => void) {
  const written = { out: '', err: '' };
  const before = process.exitCode;
  const spies = [
    vi.spyOn(process.stdout, 'write').mockImplementation((text) => {
      written.out += text;
      return true;
    }),
    vi.spyOn(process.stderr, 'write').mockImplementation((text) => {
      written.err += text;
      return true;
    }),
    vi.spyOn(process.stdout, 'on').mockReturnThis(),
  ];
  try {
    run();
    return { code: process.exitCode, ...written };
  } finally {
    process.exitCode = before;
    for (const spy of spies) spy.mockRestore();
  }
}
