/** Lets the player find the page that is open when the program is started again, in place of one tab more. */

import { useEffect, useState } from 'react';
import type { Bridge } from '../../../shared/bridge/index.ts';

/** How long the words stay once the player looks at the page. */
const SHOWN_MS = 4_000;
const CALLING_TITLE = '▶ Here: Linekeeper';

export function FrontNotice({ bridge }: { readonly bridge: Bridge }) {
  const [isShown, setShown] = useState(false);
  useEffect(() => {
    const leaving = new AbortController();
    bridge.onPush((push) => {
      if (push.kind !== 'front') return;
      setShown(true);
      // Most browsers bring no tab forward by themselves: the title is what can be seen of it.
      window.focus();
    }, leaving.signal);
    return () => leaving.abort();
  }, [bridge]);
  useEffect(() => {
    if (!isShown) return;
    const leaving = new AbortController();
    const title = document.title;
    document.title = CALLING_TITLE;
    const found = (): void => {
      document.title = title;
      const timer = setTimeout(() => setShown(false), SHOWN_MS);
      leaving.signal.addEventListener('abort', () => clearTimeout(timer));
    };
    if (document.hasFocus()) found();
    else window.addEventListener('focus', found, { once: true, signal: leaving.signal });
    return () => {
      document.title = title;
      leaving.abort();
    };
  }, [isShown]);
  return isShown ? (
    <p className="notice over" role="status">
      Linekeeper is open here.
    </p>
  ) : null;
}
