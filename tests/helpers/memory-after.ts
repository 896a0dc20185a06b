/** What a history of rated days comes to, from its first day on. */

import {
  type Memory,
  memoryOf,
  NO_DAYS,
  type RatedDay,
  SPACING,
  type SpacingSettings,
  withDays,
} from '../../src/core/progress/spacing/memory.ts';

/** What is left after rated days, oldest first; null without any. */
export function memoryAfter(
  days: readonly RatedDay[],
  settings: SpacingSettings = SPACING,
): Memory | null {
  return memoryOf(withDays(NO_DAYS, days, settings), settings);
}
