/** What the effects of a run have to do their work with. */

import type { Bridge } from '../../../../shared/bridge/index.ts';
import type { TakeSource } from '../../../core/take/model.ts';
import type { Transport } from '../../audio/index.ts';
import type { RunWish } from '../../prepare/run-wish.ts';
import type { PlayedSpan } from '../../session/playing-time.ts';
import type { SoundSettings, StartSignal } from '../../settings/player-settings.ts';
import type { Practice } from '../machine.ts';

/** What is played first. */
export function practiceOf({ form, setUp }: Pick<RunWish, 'form' | 'setUp'>): Practice {
  const { tempo } = setUp.grade;
  return { form, setUp, tempoBpm: tempo.kind === 'steady' ? tempo.tempoBpm : UNKNOWN_BPM };
}

/** Only a file has a tempo that is not steady, and it is not played again without one. */
const UNKNOWN_BPM = 60;

/** Settings are asked for when they are needed: they may change while a run lasts. */
export interface RunMeans {
  readonly bridge: Pick<Bridge, 'ask'>;
  readonly transport: Transport;
  sound(): SoundSettings;
  startSignal(): StartSignal;
  /** A keyboard as a source of a take, as it is remembered with the output in use. */
  sourceFor(deviceName: string): TakeSource;
  /** A stretch of playing, so that breaks can be called for. */
  notePlaying(span: PlayedSpan): void;
  /** The order of random keys and the choice of examples. */
  readonly seed: number;
}
