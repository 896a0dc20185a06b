/** Days and minutes by the wall clock of the place. Expected values: the calendar, and the IANA rules of Berlin and Honolulu. */

import { expect, test } from 'vitest';
import { civilTimeAt } from '../../../src/main/store/civil-time.ts';

const dayOf = (year: number, month: number, day: number): number =>
  Date.UTC(year, month - 1, day) / 86_400_000;

test('half past eleven in the evening is that day, in summer and in winter', () => {
  const zone = 'Europe/Berlin';
  const minute = 23 * 60 + 30;
  const summer = civilTimeAt(Date.UTC(2026, 6, 1, 21, 30), zone);
  expect(summer).toEqual({ day: dayOf(2026, 7, 1), minute, zone });
  const winter = civilTimeAt(Date.UTC(2026, 0, 1, 22, 30), zone);
  expect(winter).toEqual({ day: dayOf(2026, 1, 1), minute, zone });
  expect(civilTimeAt(Date.UTC(2026, 6, 1, 22, 30), zone).day).toBe(dayOf(2026, 7, 2));
});

test('the night in which the clock goes forward has its day', () => {
  const at = (hour: number, minute: number) =>
    civilTimeAt(Date.UTC(2026, 2, 29, hour, minute), 'Europe/Berlin');
  expect(at(0, 59)).toMatchObject({ day: dayOf(2026, 3, 29), minute: 119 });
  expect(at(1, 0)).toMatchObject({ day: dayOf(2026, 3, 29), minute: 180 });
});

test('the same moment is another day elsewhere, and one before 1970 or without a date has one too', () => {
  const zone = 'Pacific/Honolulu';
  expect(civilTimeAt(Date.UTC(2026, 6, 1, 9), zone).day).toBe(dayOf(2026, 6, 30));
  expect(civilTimeAt(-1, zone)).toMatchObject({ day: -1, minute: 13 * 60 + 59 });
  for (const atMs of [1e300, -1e300]) {
    expect(Number.isInteger(civilTimeAt(atMs, zone).day)).toBe(true);
  }
});
