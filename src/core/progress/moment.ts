/** When somebody asks how practice stands. */

export interface Moment {
  /** Ms since 1970. */
  readonly nowMs: number;
  /** The day it is by the calendar on the player's wall: days since 1970. */
  readonly today: number;
}
