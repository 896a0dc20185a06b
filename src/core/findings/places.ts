/** Places and notes of a report in words. */

import type { ReportSlot } from '../grading/index.ts';

/** How a slot of a beat is counted aloud, by its number in the beat. Common practice, no source. */
const COUNTS: readonly (readonly string[])[] = [
  [''],
  ['', '&'],
  ['', '&', 'a'],
  ['', 'e', '&', 'a'],
];

/** `chorus 2, bar 7, beat 3&`; a twelfth of a beat at `free` is told as a share. */
export function placeOf(
  slot: Pick<ReportSlot, 'chorus' | 'bar' | 'beat' | 'sub'>,
  slotsPerBeat: number | 'twelfths',
): string {
  const sub =
    slotsPerBeat === 'twelfths'
      ? slot.sub === 0
        ? ''
        : ` + ${slot.sub}/12`
      : (COUNTS[slotsPerBeat - 1]?.[slot.sub] ?? '');
  return `chorus ${slot.chorus}, bar ${slot.bar}, beat ${slot.beat}${sub}`;
}

/** `3 slots`, `1 slot`, `2 choruses`. */
export function counted(number: number, word: string): string {
  const plural = word.endsWith('s') ? `${word}es` : `${word}s`;
  return `${number} ${number === 1 ? word : plural}`;
}

/** A share as whole per cent, rounded down: 100 % means all. */
export function percent(share: number): string {
  return `${Math.floor(share * 100 + 1e-9)} %`;
}

/** Milliseconds with one decimal and a real minus. */
export function ms(value: number): string {
  return `${value.toFixed(1).replace('-', '−')} ms`;
}
