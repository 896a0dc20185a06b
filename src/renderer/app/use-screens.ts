/** The screen that is shown, and the browser's Back and Forward over those shown before. */

import { startTransition, useCallback, useEffect, useRef, useState } from 'react';
import type { Screen } from './screen.ts';
import { shownAgain, type Visits, visit } from './visits.ts';

const FIRST: Screen = { name: 'choose' };

/** In the browser's list each place has its number and this page's mark: what another page left there means nothing. */
const MARK = crypto.randomUUID();

function placeOf(state: unknown): number | null {
  const { mark, at } = (state ?? {}) as { readonly mark?: unknown; readonly at?: unknown };
  return mark === MARK && typeof at === 'number' ? at : null;
}

/** The screen, and the way to another one. */
export function useScreens(): readonly [Screen, (next: Screen) => void] {
  const visits = useRef<Visits>({ screens: [FIRST], at: 0 });
  const [screen, setScreen] = useState(FIRST);

  // As a transition: else React shows a blank in between, and for 300 ms at least, however soon the screen is there.
  const show = useCallback((next: Screen) => startTransition(() => setScreen(next)), []);

  const go = useCallback(
    (next: Screen) => {
      const { visits: after, step } = visit(visits.current, next);
      visits.current = after;
      const place = { mark: MARK, at: after.at };
      if (step === 'back') return history.back();
      if (step === 'push') history.pushState(place, '');
      if (step === 'replace') history.replaceState(place, '');
      show(next);
    },
    [show],
  );

  useEffect(() => {
    const leaving = new AbortController();
    history.replaceState({ mark: MARK, at: visits.current.at }, '');
    window.addEventListener(
      'popstate',
      ({ state }) => {
        const at = placeOf(state);
        const place = at === null ? undefined : visits.current.screens[at];
        // From before the page was loaded again: what was shown then is not known.
        if (at === null || place === undefined) {
          visits.current = { screens: [FIRST], at: 0 };
          history.replaceState({ mark: MARK, at: 0 }, '');
          return show(FIRST);
        }
        visits.current = { ...visits.current, at };
        show(shownAgain(place));
      },
      { signal: leaving.signal },
    );
    return () => leaving.abort();
  }, [show]);

  return [screen, go];
}
