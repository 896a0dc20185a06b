/** What the page reads from its host. */

export { type Answers, askFirst, createAnswers } from './answers.ts';
export { AnswersProvider } from './answers-provider.tsx';
export { type Answer, useAnswer, useFirst, useForget, useLast, useRefresh } from './use-answer.ts';
