/** What a run is asked for: what is played, and how one take leads to the next. */

import type { KeyCycle } from '../../core/plan/index.ts';
import type { HeardWish } from './heard-wish.ts';
import type { Again } from './play-again.ts';

/** How one take leads to the next. */
export interface RunManner {
  /** Whether the tempo follows readiness in endless play. */
  readonly nudge: boolean;
  /** In which order the keys follow one another after each take's choruses; null: the key stays. */
  readonly keyCycle: KeyCycle | null;
  /** The example heard before each take; null: only the count-in. */
  readonly heard: HeardWish | null;
}

/** A take that leads to no other. */
export const ALONE: RunManner = { nudge: false, keyCycle: null, heard: null };

export interface RunWish extends Again, RunManner {}
