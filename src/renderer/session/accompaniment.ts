/** What sounds beside the line under a player's settings, and from where. */

import type { TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { createBeatClock } from '../../core/grid/index.ts';
import {
  chordScore,
  clickScore,
  mergeScores,
  type SoundEvent,
  type StageSettings,
} from '../audio/index.ts';
import { instrumentOn } from '../midi/instrument.ts';
import type { SoundSettings } from '../settings/player-settings.ts';

/** Where sound goes under the settings: to the instrument that was chosen and is there, else to the computer. */
export function stageSettings({ volumes, midiOutput }: SoundSettings): StageSettings {
  return { volumes, midi: midiOutput === null ? null : instrumentOn(midiOutput) };
}

/** Click, bass and pad of a form under the settings, in order of time, from the count-in on. */
export function accompaniment(
  form: Form,
  { tempo, choruses, swing }: Pick<TakeSetUp['grade'], 'tempo' | 'choruses' | 'swing'>,
  sound: SoundSettings,
): Generator<SoundEvent> {
  const clock = createBeatClock(form, tempo);
  return mergeScores(
    clickScore(form, clock, choruses, { ...sound, on: sound.click, swing }),
    chordScore(form, clock, choruses, sound),
  );
}
