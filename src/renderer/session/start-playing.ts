/**
 * A performance and the take played to it, started together: the take's clock is the performance's. Knows no screen.
 */

import type { Bridge, TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { failure, type Outcome, success } from '../../core/problem.ts';
import type { TakeSource } from '../../core/take/model.ts';
import { refusalWords } from '../app/refusal-words.ts';
import type { Performance, Transport } from '../audio/index.ts';
import type { SoundSettings } from '../settings/player-settings.ts';
import { accompaniment, stageSettings } from './accompaniment.ts';
import { type LiveTake, startLiveTake } from './live-take.ts';

export interface PlayedTake {
  readonly take: LiveTake;
  readonly performance: Performance;
  /** When the first downbeat is heard, on the page's clock, as it was known at the start. */
  readonly downbeatPageMs: number;
}

/** Begins a take at the host, then the performance. Problems are sentences; nothing sounds then. */
export async function startPlaying(
  bridge: Bridge,
  transport: Transport,
  form: Form,
  setUp: TakeSetUp,
  sources: readonly TakeSource[],
  sound: SoundSettings,
): Promise<Outcome<PlayedTake, string>> {
  const begun = await bridge.ask('takes.begin', { setUp, sources });
  if (!begun.ok) return failure(refusalWords(begun.refusal));
  const { takeId } = begun.value;
  try {
    const score = accompaniment(form, setUp.grade, sound);
    const performance = await transport.play(score, stageSettings(sound));
    const take = startLiveTake(bridge, takeId, form, setUp, sources, performance);
    return success({ take, performance, downbeatPageMs: performance.pageMs(0) });
  } catch (error) {
    // An empty take would stand among the others for ever.
    await bridge.ask('takes.delete', { takeId });
    return failure(error instanceof Error ? error.message : String(error));
  }
}
