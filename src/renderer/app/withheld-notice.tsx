/** Says large that the browser withholds sound until the page is touched, before a take is started in silence. */

import './withheld-notice.css';
import { useCallback, useSyncExternalStore } from 'react';
import { useProgram } from './program.tsx';

export function WithheldNotice() {
  const { transport } = useProgram();
  const subscribe = useCallback(
    (onChange: () => void) => {
      const leaving = new AbortController();
      transport.onState(onChange, leaving.signal);
      return () => leaving.abort();
    },
    [transport],
  );
  const isWithheld = useSyncExternalStore(subscribe, transport.isWithheld);
  if (!isWithheld) return null;
  return (
    <p className="notice withheld-notice" role="alert">
      No sound yet: this browser waits until the page is touched. Click anywhere on it, or press a
      key.
    </p>
  );
}
