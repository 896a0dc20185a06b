/** The running totals of a take in words. Pure. */

import type { LiveVerdicts } from '../../session/live-take.ts';

/** `41 of 44 slots clean, 5 of 6 changes on time`; what is not there yet is not said. */
export function totalsInWords({
  settled,
  changes,
}: Pick<LiveVerdicts, 'settled' | 'changes'>): string {
  const last = settled.findLastIndex(({ note }) => note !== null);
  const graded = settled.slice(0, last + 1).filter(({ judged }) => judged);
  if (graded.length === 0) return 'Nothing settled yet.';
  const clean = graded.filter(({ faults }) => faults.length === 0).length;
  const counted = changes.filter(
    ({ arrival, slot }) => arrival !== 'unchanged' && arrival !== 'unjudged' && slot <= last,
  );
  const onTime = counted.filter(({ arrival }) => arrival === 'onTime').length;
  const slots = `${clean} of ${graded.length} slots clean`;
  return counted.length === 0 ? slots : `${slots}, ${onTime} of ${counted.length} changes on time`;
}
