/**
 * A performance and the take played to it, started together: the take's clock is the performance's. Knows no screen.
 */

import type { Bridge, TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { createBeatClock } from '../../core/grid/index.ts';
import { failure, type Outcome, success } from '../../core/problem.ts';
import { refusalWords } from '../app/refusal-words.ts';
import {
  chordScore,
  clickScore,
  mergeScores,
  type Performance,
  perform,
  type SoundEvent,
} from '../audio/index.ts';
import { instrumentOn } from '../midi/instrument.ts';
import type { SoundSettings } from '../settings/player-settings.ts';
import { type LiveTake, startLiveTake } from './live-take.ts';

export interface PlayedTake {
  readonly take: LiveTake;
  readonly performance: Performance;
}

/** Parts that an instrument plays in place of the computer; a click from two places is none. */
const INSTRUMENT_PARTS: ReadonlySet<SoundEvent['kind']> = new Set(['click', 'bass', 'pad', 'note']);

/** Where sound goes under the settings: to the instrument that was chosen and is there, else to the computer. */
export function stageSettings({ volumes, midiOutput }: SoundSettings) {
  const sink = midiOutput === null ? null : instrumentOn(midiOutput);
  return { volumes, midi: sink === null ? null : { sink, parts: INSTRUMENT_PARTS } };
}

/** Click, bass and pad of a form under the settings, in order of time, from the count-in on. */
export function accompaniment(
  form: Form,
  { tempo, choruses, swing }: TakeSetUp['grade'],
  sound: SoundSettings,
): Generator<SoundEvent> {
  const clock = createBeatClock(form, tempo);
  return mergeScores(
    clickScore(form, clock, choruses, { ...sound, on: sound.click, swing }),
    chordScore(form, clock, choruses, sound),
  );
}

/** Begins a take at the host, then the performance. Problems are sentences; nothing sounds then. */
export async function startPlaying(
  bridge: Bridge,
  form: Form,
  setUp: TakeSetUp,
  sound: SoundSettings,
): Promise<Outcome<PlayedTake, string>> {
  const begun = await bridge.ask('takes.begin', { setUp });
  if (!begun.ok) return failure(refusalWords(begun.refusal));
  const { takeId } = begun.value;
  try {
    const score = accompaniment(form, setUp.grade, sound);
    const performance = await perform(score, stageSettings(sound));
    const take = startLiveTake(bridge, takeId, form, setUp, performance.downbeatAtMs, () => {});
    return success({ take, performance });
  } catch (error) {
    // An empty take would stand among the others for ever.
    await bridge.ask('takes.delete', { takeId });
    const why = error instanceof Error ? error.message : String(error);
    return failure(
      `The sound could not be started (${why}). Check the computer’s sound output and start again.`,
    );
  }
}
