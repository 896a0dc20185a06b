/** A take in one line, for lists. */

import type { TakeRow } from '../../../shared/bridge/index.ts';
import { withSigns } from '../look/signs.ts';

const WHEN = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });

/** When it was played and how it went, in one line. */
export function describeTake({ setUp, figures, startedAtMs, state }: TakeRow): string {
  const { tempo, level } = setUp.grade;
  const at = tempo.kind === 'steady' ? ` at ${Math.round(tempo.tempoBpm)}` : '';
  const clean = figures === null ? '' : `, ${figures.clean} of ${figures.slots} clean`;
  const open = state === 'recording' ? ' (being played)' : '';
  return `${WHEN.format(startedAtMs)}: ${level}${at}, plan ${setUp.plan}, in ${withSigns(setUp.key)}${clean}${open}`;
}
