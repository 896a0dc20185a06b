/** What a host is killed at, and what it says before. */

export const WORK_NAMES = [
  'runs',
  'play',
  'backup',
  'export',
  'import',
  'migrate',
  'restore',
] as const;
export type Work = (typeof WORK_NAMES)[number];

/** For how long after it is ready each may work, in ms: long enough to be over, short enough to be hit. */
export const LONGEST_MS: Readonly<Record<Work, number>> = {
  runs: 700,
  play: 900,
  backup: 700,
  export: 900,
  import: 700,
  migrate: 60,
  restore: 60,
};

export type Said =
  | { readonly kind: 'ready' }
  /** An event came from the keyboard; times are on the host's own clock. */
  | { readonly kind: 'played'; readonly event: number; readonly atMs: number }
  | { readonly kind: 'alive'; readonly atMs: number }
  | { readonly kind: 'saved'; readonly title: string }
  /** So many events of a take are stored. */
  | { readonly kind: 'stored'; readonly takeId: string; readonly events: number }
  /** A take was finished in which there was nothing to keep. */
  | { readonly kind: 'notKept'; readonly takeId: string }
  | { readonly kind: 'did'; readonly name: string };
