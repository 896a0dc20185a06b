/**
 * A month as a grid of days, gone through with the arrow keys: left and right by days, up and down by weeks, Home and End
 * within a week, Page Up and Page Down by months. Source of the keys: WAI-ARIA Authoring Practices, "Date Picker Dialog".
 */

import { type KeyboardEvent, useLayoutEffect, useRef } from 'react';
import { type MonthView, sameDateLater } from '../../../core/journal/index.ts';
import { DAY_MS, weekOf } from '../../../core/progress/index.ts';
import { tintColour } from '../../chart-page/chart-page.tsx';
import {
  describeDay,
  FIRST_DAY,
  LAST_DAY,
  monthWords,
  tintOfMinutes,
  today,
  weekdayWords,
} from './journal-model.ts';

interface MonthGridProps {
  readonly view: MonthView;
  /** The day the arrow keys start from; it is in the month shown. */
  readonly day: number;
  /** The day whose sessions alone are listed, or null. */
  readonly chosenDay: number | null;
  readonly onMove: (day: number) => void;
  readonly onChoose: (day: number) => void;
}

/** The day a key leads to; null for a key that leads nowhere. */
function dayAfterKey(key: string, day: number): number | null {
  switch (key) {
    case 'ArrowLeft':
      return day - 1;
    case 'ArrowRight':
      return day + 1;
    case 'ArrowUp':
      return day - 7;
    case 'ArrowDown':
      return day + 7;
    case 'Home':
      return weekOf(day);
    case 'End':
      return weekOf(day) + 6;
    case 'PageUp':
      return sameDateLater(day, -1);
    case 'PageDown':
      return sameDateLater(day, 1);
    default:
      return null;
  }
}

export function MonthGrid({ view, day, chosenDay, onMove, onChoose }: MonthGridProps) {
  const table = useRef<HTMLTableElement>(null);
  const isMoving = useRef(false);
  const [firstWeek = []] = view.weeks;
  const now = today();

  // With the drawing itself: left for later, it could run after the next key, and lead to the day before.
  useLayoutEffect(() => {
    if (!isMoving.current) return;
    isMoving.current = false;
    table.current?.querySelector<HTMLElement>(`[data-day="${day}"]`)?.focus();
  }, [day]);

  function move(event: KeyboardEvent): void {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const next = dayAfterKey(event.key, day);
    if (next === null) return;
    event.preventDefault();
    isMoving.current = true;
    onMove(Math.min(Math.max(next, FIRST_DAY), LAST_DAY));
  }

  return (
    // biome-ignore lint/a11y/noNoninteractiveElementToInteractiveRole: the days are gone through by arrow keys
    <table className="month" role="grid" aria-label={monthWords(day)} ref={table} onKeyDown={move}>
      <thead>
        <tr>
          {firstWeek.map((one) => (
            <th key={one.day} scope="col">
              {weekdayWords(one.day)}
            </th>
          ))}
        </tr>
      </thead>
      <tbody>
        {view.weeks.map((week) => (
          <tr key={week[0]?.day}>
            {week.map((one) => (
              <td key={one.day} style={{ backgroundColor: tintColour(tintOfMinutes(one.minutes)) }}>
                <button
                  type="button"
                  data-day={one.day}
                  tabIndex={one.day === day ? 0 : -1}
                  className={one.isInMonth ? '' : 'other-month'}
                  aria-pressed={one.day === chosenDay}
                  aria-current={one.day === now ? 'date' : undefined}
                  aria-label={describeDay(one)}
                  onClick={() => onChoose(one.day)}
                >
                  <span className="date">{new Date(one.day * DAY_MS).getUTCDate()}</span>
                  {one.sessions > 0 && (
                    <span className="played">{Math.max(1, Math.round(one.minutes))} min</span>
                  )}
                </button>
              </td>
            ))}
          </tr>
        ))}
      </tbody>
    </table>
  );
}
