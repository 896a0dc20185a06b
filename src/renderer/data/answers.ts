/**
 * The answers of the host, each kept under its question: a late one is never shown under another question, and none that was
 * on its way when the host told of a change is shown after it.
 */

import { notifyManager, type Query, QueryClient } from '@tanstack/react-query';
import type { Bridge, CallRequest, Changing, Refusal } from '../../../shared/bridge/index.ts';
import { dependsOn, type QuestionName } from './questions.ts';

/** An answer nobody shows any more is kept so long, in ms: longer than from one screen to the next, shorter than until tomorrow. */
const KEPT_MS = 10_000;

/** The host refused to answer. */
export class Refused extends Error {
  readonly refusal: Refusal;

  constructor(refusal: Refusal) {
    super(refusal.code);
    this.refusal = refusal;
  }
}

/** The name of a question with all its answer depends on; an answer is fetched by nothing else. */
export type Question<Name extends QuestionName = QuestionName> = readonly [Name, CallRequest<Name>];

export type Answers = QueryClient;

/** What is known of one host. */
export function createAnswers(bridge: Pick<Bridge, 'ask'>): Answers {
  async function ask({ queryKey }: { readonly queryKey: readonly unknown[] }): Promise<unknown> {
    // Every question is put by the functions of this folder.
    const [name, request] = queryKey as unknown as Question;
    const reply = await bridge.ask(name, request);
    if (!reply.ok) throw new Refused(reply.refusal);
    return reply.value;
  }
  // Timers of a page may be held back, by its browser or by a test; answers are not.
  notifyManager.setScheduler(queueMicrotask);
  return new QueryClient({
    defaultOptions: {
      queries: {
        queryFn: ask,
        // The host is on this computer: it tells what has changed, and an answer is asked for again when it has.
        ...{ networkMode: 'always', retry: false, staleTime: Number.POSITIVE_INFINITY },
        ...{ refetchOnWindowFocus: false, refetchOnReconnect: false, gcTime: KEPT_MS },
      },
    },
  });
}

/** What the first screen asks, so that it is drawn once, with the answers in it. */
const FIRST_QUESTIONS = ['library.state', 'settings.get', 'devices.list', 'charts.list'] as const;

/** Puts the first questions; done when all are answered or refused. */
export async function askFirst(answers: Answers): Promise<void> {
  await Promise.all(
    FIRST_QUESTIONS.map((name) =>
      answers.prefetchQuery({ queryKey: [name, {}], gcTime: Number.POSITIVE_INFINITY }),
    ),
  );
}

/** Heeds what the host tells of changes until the signal is aborted. */
export function heedChanges(answers: Answers, bridge: Bridge, signal: AbortSignal): void {
  bridge.onPush((push) => {
    if (push.kind === 'changed') void renew(answers, push.what);
  }, signal);
}

async function renew(answers: Answers, what: Changing): Promise<void> {
  const predicate = ({ queryKey }: Query): boolean =>
    dependsOn((queryKey as unknown as Question)[0], what);
  // What nobody shows is asked for when somebody does.
  answers.removeQueries({ predicate, type: 'inactive' });
  // What is under way may have been read before the change; asked again without this, a first answer would count as fresh.
  await answers.cancelQueries({ predicate });
  await answers.invalidateQueries({ predicate });
}
