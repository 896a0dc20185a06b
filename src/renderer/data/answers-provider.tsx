/** The answers of the host for all that is drawn inside. */

import { QueryClientProvider } from '@tanstack/react-query';
import { type ReactNode, useEffect, useState } from 'react';
import type { Bridge } from '../../../shared/bridge/index.ts';
import { type Answers, createAnswers, heedChanges } from './answers.ts';

interface AnswersProviderProps {
  readonly bridge: Bridge;
  /** What was asked before there is a screen. */
  readonly answers?: Answers;
  readonly children: ReactNode;
}

export function AnswersProvider({ bridge, answers: given, children }: AnswersProviderProps) {
  const [answers] = useState(() => given ?? createAnswers(bridge));
  useEffect(() => {
    const leaving = new AbortController();
    heedChanges(answers, bridge, leaving.signal);
    return () => leaving.abort();
  }, [answers, bridge]);
  return <QueryClientProvider client={answers}>{children}</QueryClientProvider>;
}
