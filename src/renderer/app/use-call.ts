/** A call of the bridge as a screen needs it: asked once, again when told, its failure in words. */

import { useCallback, useEffect, useState } from 'react';
import type { Bridge, CallName, CallReply, CallRequest } from '../../../shared/bridge/index.ts';

export interface Called<Value> {
  /** Null until the answer is there. */
  readonly value: Value | null;
  readonly failure: string | null;
  readonly again: () => void;
}

/** Asks when first drawn. The request must not change afterwards but by its own content. */
export function useCall<Name extends CallName>(
  bridge: Bridge,
  name: Name,
  request: CallRequest<Name>,
): Called<CallReply<Name>> {
  const [value, setValue] = useState<CallReply<Name> | null>(null);
  const [failure, setFailure] = useState<string | null>(null);
  const content = JSON.stringify(request);
  const again = useCallback(() => {
    void bridge.ask(name, JSON.parse(content)).then((reply) => {
      if (reply.ok) setValue(reply.value);
      setFailure(reply.ok ? null : `${reply.refusal.message} ${reply.refusal.remedy}`);
    });
  }, [bridge, name, content]);
  useEffect(again, [again]);
  return { value, failure, again };
}
