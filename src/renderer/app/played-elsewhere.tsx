/** Says that a take is being played in another window or tab, and where; this one leaves it alone. */

import { useAnswer } from '../data/index.ts';

export function PlayedElsewhere() {
  const { value } = useAnswer('takes.open', {});
  const take = value?.take ?? null;
  if (take === null || take.isOwn) return null;
  return (
    <p className="notice" role="status">
      A take on {take.chartTitle} is being played in another window or tab, since{' '}
      {clockTime(take.startedAtMs)}. It is left alone here: stop it there before you play here.
    </p>
  );
}

/** As `18:02`, by the clock of this computer. */
function clockTime(atMs: number): string {
  const at = new Date(atMs);
  return [at.getHours(), at.getMinutes()].map((part) => String(part).padStart(2, '0')).join(':');
}
