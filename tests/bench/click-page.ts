/** Runs in the page: half an hour of clicks rendered offline, and where each of them lies. */

import { createBeatClock } from '../../src/core/grid/index.ts';
import { clickScore } from '../../src/renderer/audio/click-score.ts';
import { knock } from '../../src/renderer/audio/knock.ts';
import { createVoices } from '../../src/renderer/audio/voices.ts';
import { formFromText } from '../helpers/form-from-text.ts';

const VOLUMES = { click: 1, bass: 0, pad: 0, note: 0 };

export interface ClickPlaces {
  readonly clicks: number;
  /** Clicks whose first sample is not the one it should be. */
  readonly displaced: number;
}

/** Renders and looks at every click. An uneven tempo, so that beats fall between samples. */
export async function renderClicks(
  sampleRate: number,
  minutes: number,
  tempoBpm: number,
): Promise<ClickPlaces> {
  const form = formFromText('| C | F | G7 | C |');
  const clock = createBeatClock(form, { kind: 'steady', tempoBpm });
  const choruses = Math.floor((minutes * tempoBpm) / 16);
  const countInMs = 4 * clock.beatMs(0);
  const score = clickScore(form, clock, choruses, {
    countInBars: 1,
    on: 'everyBeat',
    accent: true,
    subdivision: 1,
    swing: 1,
    silentBars: { kind: 'none' },
  });
  const clicks = [...score].flatMap((event) => (event.kind === 'click' ? [event] : []));
  let displaced = 0;
  // A minute at a time, which is a whole number of samples: a context is slow with thousands of sounds laid in it.
  for (let minute = 0; minute < minutes; minute++) {
    const context = new OfflineAudioContext(1, sampleRate * 61, sampleRate);
    const voices = createVoices(context, VOLUMES, context.destination);
    const expected: { sample: number; value: number }[] = [];
    for (const { atMs, strength, kind } of clicks) {
      const seconds = (atMs + countInMs) / 1000 - minute * 60;
      if (seconds < 0 || seconds >= 60) continue;
      voices.lay({ kind, atMs, strength }, seconds);
      const value = knock(strength, sampleRate)[0] ?? 0;
      expected.push({ sample: Math.round(seconds * sampleRate), value });
    }
    const samples = (await context.startRendering()).getChannelData(0);
    displaced += expected.filter(({ sample, value }) => {
      const isFirst = sample === 0 || Math.abs(samples[sample - 1] ?? 0) < 1e-6;
      return !isFirst || Math.abs((samples[sample] ?? 0) - value) > 1e-4;
    }).length;
  }
  return { clicks: clicks.length, displaced };
}
