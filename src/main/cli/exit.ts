/** Exit codes of the commands, as `grading.md` and `chart-text.md` name them. */
export const EXIT = {
  /** Done. */
  ok: 0,
  /** The command line itself is wrong: unknown option, missing argument, a value out of range. */
  usage: 2,
  /** A file could not be read, or has errors. */
  unreadable: 3,
} as const;

export type ExitCode = (typeof EXIT)[keyof typeof EXIT];
