/** What is shown first: the program, or the repair of its library; above either, what a player should know. */

import { lazy, Suspense } from 'react';
import type { Bridge } from '../../../shared/bridge/index.ts';
import { hostNoticeWords } from '../../../shared/notice-words.ts';
import { useAnswer, useFirst } from '../data/index.ts';
import { App } from './app.tsx';
import { ConnectionNotice } from './connection-notice.tsx';
import { FrontNotice } from './front-notice.tsx';

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
  const { value, failure } = useAnswer('library.state', {});
  // What was repaired is said in the place of the damage, until the page is loaded again.
  const state = useFirst(value);
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
      <HostNotices />
      <App bridge={bridge} />
    </>
  );
}

function HostNotices() {
  const { value: info } = useAnswer('host.info', {});
  if (info === null || info.notices.length === 0) return null;
  return (
    <p className="notice told" role="alert">
      {info.notices.map(hostNoticeWords).join('\n')}
    </p>
  );
}
