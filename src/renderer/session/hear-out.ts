/** A score heard to its end, or until it is ended. Knows no screen. */

import { isStopped, type SoundEvent, type StageSettings, type Transport } from '../audio/index.ts';

export interface HeardOut {
  /** True when it was heard to its end. Rejects in words when the sound could not be started. */
  readonly done: Promise<boolean>;
  end(): void;
}

export function hearOut(
  transport: Transport,
  score: Iterator<SoundEvent>,
  stage: StageSettings,
): HeardOut {
  const ending = new AbortController();
  const done = new Promise<boolean>((resolve, reject) => {
    const onEnd = (): void => {
      resolve(true);
      ending.abort();
    };
    transport.play(score, { ...stage, onEnd }, ending.signal).then(
      ({ over }) => {
        if (over.aborted) resolve(false);
        over.addEventListener('abort', () => resolve(false));
      },
      (error) => (isStopped(error) ? resolve(false) : reject(error)),
    );
  });
  return { done, end: () => ending.abort() };
}
