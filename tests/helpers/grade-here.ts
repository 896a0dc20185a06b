/** The grade command in the process of its tests: a program of its own for each case would take most of the time to start. */

import { vi } from 'vitest';
import { gradeTakes } from '../../src/main/grade-takes.ts';

/** Runs the command on arguments: the code it would end with, and what it wrote. */
export function gradeHere(...args: readonly string[]) {
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
    gradeTakes(args);
    return { code: process.exitCode, ...written };
  } finally {
    process.exitCode = before;
    for (const spy of spies) spy.mockRestore();
  }
}
