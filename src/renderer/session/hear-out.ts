/** A score heard to its end, or until it is ended. Knows no screen. */

import { type Performance, perform, type SoundEvent, type StageSettings } from '../audio/index.ts';

export interface HeardOut {
  /** True when it was heard to its end. Rejects when the sound could not be started. */
  readonly done: Promise<boolean>;
  end(): void;
}

export function hearOut(score: Iterator<SoundEvent>, stage: StageSettings): HeardOut {
  let performance: Performance | null = null;
  let isOver = false;
  let settle: (whole: boolean) => void = () => {};
  const finish = (whole: boolean): void => {
    isOver = true;
    performance?.stop();
    settle(whole);
  };
  const done = new Promise<boolean>((resolve, reject) => {
    settle = resolve;
    perform(score, { ...stage, onEnd: () => finish(true) }).then((started) => {
      performance = started;
      if (isOver) started.stop();
    }, reject);
  });
  return { done, end: () => finish(false) };
}
