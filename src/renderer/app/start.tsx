/** What is shown first: the program, or the repair of its library; above either, what a player should know. */

import type { Bridge } from '../../../shared/bridge/index.ts';
import { RepairScreen } from '../screens/repair/repair-screen.tsx';
import { App } from './app.tsx';
import { useCall } from './use-call.ts';

export function Start({ bridge }: { readonly bridge: Bridge }) {
  const { value: state, failure } = useCall(bridge, 'library.state', {}, false);
  if (state === null && failure === null) return <p className="page">One moment …</p>;
  // A host that does not answer is told by the program itself.
  if (state?.kind === 'damaged') return <RepairScreen bridge={bridge} state={state} />;
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
