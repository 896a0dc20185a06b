/** What is shown first: the program, or the repair of its library; above either, what a player should know. */

import { lazy, Suspense, useEffect } from 'react';
import type { Bridge } from '../../../shared/bridge/index.ts';
import { forgetAhead } from '../bridge/ask-ahead.ts';
import { App } from './app.tsx';
import { ConnectionNotice } from './connection-notice.tsx';
import { FrontNotice } from './front-notice.tsx';
import { useCall } from './use-call.ts';

const RepairScreen = lazy(() => import('../screens/repair/repair-screen.tsx'));

export function Start({ bridge }: { readonly bridge: Bridge }) {
  return (
    <>
      <ConnectionNotice bridge={bridge} />
      <FrontNotice bridge={bridge} />
      <First bridge={bridge} />
    </>
  );
}

function First({ bridge }: { readonly bridge: Bridge }) {
  const { value: state, failure } = useCall(bridge, 'library.state', {}, false);
  // The effects of what is inside have run by then.
  useEffect(() => forgetAhead(bridge), [bridge]);
  const wait = <p className="page">One moment …</p>;
  if (state === null && failure === null) return wait;
  // A host that does not answer is told by the program itself.
  if (state?.kind === 'damaged') {
    return (
      <Suspense fallback={wait}>
        <RepairScreen bridge={bridge} state={state} />
      </Suspense>
    );
  }
  return (
    <>
      <HostNotices bridge={bridge} />
      <App bridge={bridge} />
    </>
  );
}

function HostNotices({ bridge }: { readonly bridge: Bridge }) {
  const { value: info } = useCall(bridge, 'host.info', {});
  if (info === null || info.notices.length === 0) return null;
  return (
    <p className="notice told" role="alert">
      {info.notices.join('\n')}
    </p>
  );
}
