/** A call of the bridge as a screen needs it: asked once unless it was asked ahead, again when what it answers has changed, its failure in words. */

import { useCallback, useEffect, useRef, useState } from 'react';
import type { Bridge, CallName, CallReply, CallRequest } from '../../../shared/bridge/index.ts';
import { answerAhead } from '../bridge/ask-ahead.ts';
import { refusalWords } from './refusal-words.ts';

export interface Called<Value> {
  /** Null until the answer is there. */
  readonly value: Value | null;
  readonly failure: string | null;
  readonly again: () => void;
}

/** What is told of progress comes from takes, from charts and from goals. */
const PROGRESS_PARTS: readonly string[] = ['takes', 'charts', 'settings'];

function dependsOn(name: CallName, what: string): boolean {
  return name.startsWith(what) || (name.startsWith('progress') && PROGRESS_PARTS.includes(what));
}

/**
 * Asks when first drawn and, with `live`, whenever the host tells that what the call's name begins with has changed.
 * The request must not change afterwards but by its own content.
 */
export function useCall<Name extends CallName>(
  bridge: Bridge,
  name: Name,
  request: CallRequest<Name>,
  live = true,
): Called<CallReply<Name>> {
  const [ahead] = useState(() => answerAhead(bridge, name));
  const [value, setValue] = useState<CallReply<Name> | null>(ahead?.ok ? ahead.value : null);
  const [failure, setFailure] = useState<string | null>(
    ahead === null || ahead.ok ? null : refusalWords(ahead.refusal),
  );
  const content = JSON.stringify(request);
  const again = useCallback(() => {
    void bridge.ask(name, JSON.parse(content)).then((reply) => {
      if (reply.ok) setValue(reply.value);
      setFailure(reply.ok ? null : refusalWords(reply.refusal));
    });
  }, [bridge, name, content]);
  const isAnswered = useRef(ahead !== null);
  useEffect(() => {
    if (!isAnswered.current) again();
    isAnswered.current = false;
  }, [again]);
  useEffect(() => {
    if (!live) return;
    const leaving = new AbortController();
    bridge.onPush((push) => {
      if (push.kind === 'changed' && dependsOn(name, push.what)) again();
    }, leaving.signal);
    return () => leaving.abort();
  }, [bridge, name, again, live]);
  return { value, failure, again };
}
