/** Says when the program the page belongs to is gone or hangs, over whatever screen there is. */

import { useState, useSyncExternalStore } from 'react';
import type { Bridge, Connection } from '../../../shared/bridge/index.ts';

const WORDS: Readonly<Record<Exclude<Connection, 'connected'>, string>> = {
  hung: 'The program does not answer at the moment. What you play is kept on this page until it does.',
  gone: 'The program has ended. What you play is kept on this page: leave it open and start the program again with npm start. The page then goes on by itself.',
  unknown:
    'Another start of the program runs here, and it does not know this page. What you play is kept on this page: open the address that npm start prints in another tab, then this page goes on by itself.',
};

export function ConnectionNotice({ bridge }: { readonly bridge: Bridge }) {
  const [{ subscribe, current }] = useState(() => connectionOf(bridge));
  const connection = useSyncExternalStore(subscribe, current);
  return connection === 'connected' ? null : (
    <p className="notice over" role="alert">
      {WORDS[connection]}
    </p>
  );
}

/** The connection as React follows it. */
function connectionOf(bridge: Bridge) {
  let connection: Connection = 'connected';
  return {
    current: () => connection,
    subscribe(onChange: () => void): () => void {
      const leaving = new AbortController();
      bridge.onConnection((next) => {
        connection = next;
        onChange();
      }, leaving.signal);
      return () => leaving.abort();
    },
  };
}
