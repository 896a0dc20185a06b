/** What a screen reads from the host: asked when it is first shown, and again whenever the host tells that it has changed. */

import { type Query, useQuery, useQueryClient } from '@tanstack/react-query';
import { useCallback, useState } from 'react';
import type { CallReply, CallRequest } from '../../../shared/bridge/index.ts';
import { refusalWords } from '../app/refusal-words.ts';
import type { Refused } from './answers.ts';
import type { QuestionName } from './questions.ts';

export interface Answer<Value> {
  /** Null until the answer to this very question is there. */
  readonly value: Value | null;
  /** Why there is none, or none of now, in words. */
  readonly failure: string | null;
}

/**
 * Without a request (null) nothing is asked. `select`, the same function each time, takes what is needed out of the answer: it
 * is another value only when that is.
 */
export function useAnswer<Name extends QuestionName, Value = CallReply<Name>>(
  name: Name,
  request: CallRequest<Name> | null,
  select?: (reply: CallReply<Name>) => Value,
): Answer<Value> {
  const { data, error } = useQuery<CallReply<Name>, Refused, Value>({
    queryKey: [name, request],
    enabled: request !== null,
    ...(select && { select }),
  });
  return { value: data ?? null, failure: error === null ? null : refusalWords(error.refusal) };
}

/** Forgets what was answered to a question: it is asked again. */
export function useForget(): (name: QuestionName) => void {
  const answers = useQueryClient();
  return (name) => answers.removeQueries({ queryKey: [name] });
}

/** Asks a question again and waits for the answer: for what is drawn next from something that was just stored. */
export function useRefresh(): (name: QuestionName) => Promise<void> {
  const answers = useQueryClient();
  return useCallback(
    async (name) => {
      const asked = { queryKey: [name], type: 'active' } as const;
      await answers.cancelQueries(asked);
      // A change told meanwhile cancels what is asked here, and leaves the answer of before.
      do await answers.invalidateQueries(asked);
      while (answers.getQueryCache().findAll(asked).some(isOutdated));
    },
    [answers],
  );
}

function isOutdated({ state }: Query): boolean {
  return state.status === 'success' && state.isInvalidated;
}

/** The first value there was: for what must not change under the player's hands. */
export function useFirst<Value>(value: Value | null): Value | null {
  const [first, setFirst] = useState(value);
  if (first === null && value !== null) setFirst(value);
  return first ?? value;
}

/** The value, or the last there was while there is none. */
export function useLast<Value>(value: Value | null): Value | null {
  const [last, setLast] = useState(value);
  if (value !== null && value !== last) setLast(value);
  return value ?? last;
}
