/** The rate of gain in words. */

import { GAIN_WINDOW_DAYS, type RateOfGain } from './rate-of-gain.ts';

/** One sentence or two; one that cannot tell says what is missing. */
export function describeGain(gain: RateOfGain): string {
  if (gain.kind === 'tooThin') return describeThin(gain);
  if (gain.kind === 'oneTempo') return ONE_TEMPO;
  const { bpmPerWeek, lower, upper, days } = gain;
  const range = `between ${signed(lower)} and ${signed(upper)} beats per minute a week`;
  const basis = `told from ${days} days of the last ${GAIN_WINDOW_DAYS / 7} weeks`;
  if (lower > 0)
    return `At an equal clean rate the tempo rises by ${signed(bpmPerWeek)} a week, likely ${range}, ${basis}.`;
  if (upper < 0)
    return `At an equal clean rate the tempo falls by ${signed(-bpmPerWeek)} a week, likely ${range}, ${basis}.`;
  return `Whether the tempo rises or falls at an equal clean rate cannot be told yet: ${range}, ${basis}.`;
}

const ONE_TEMPO =
  'Too little to tell a rate of gain: what a faster tempo costs does not show yet. Takes a little slower and a little faster than now would show it.';

function describeThin(gain: Extract<RateOfGain, { kind: 'tooThin' }>): string {
  const { missingDays, missingSpanDays } = gain;
  const days = missingDays === 1 ? '1 more day' : `${missingDays} more days`;
  if (missingDays > 0) return `Too little to tell a rate of gain: ${days} of practice needed.`;
  const span = missingSpanDays === 1 ? '1 more day' : `${missingSpanDays} more days`;
  return `Too little to tell a rate of gain: its days must lie ${span} further apart.`;
}

/** One decimal and a real minus. */
function signed(bpm: number): string {
  return bpm.toFixed(1).replace('-', '−').replace('−0.0', '0.0');
}
