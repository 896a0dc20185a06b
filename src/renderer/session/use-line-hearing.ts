/** A written line heard with click and bass, and which bar of it sounds. */

import { useState } from 'react';
import type { Form } from '../../core/chart/index.ts';
import { createBeatClock } from '../../core/grid/index.ts';
import type { WrittenLine } from '../../core/line/index.ts';
import { useProgram } from '../app/program.tsx';
import { lineScore, mergeScores } from '../audio/index.ts';
import { placeInForm } from '../palette/palette-words.ts';
import { accompaniment } from './accompaniment.ts';
import { useHearing } from './use-hearing.ts';

export interface LineHearing {
  readonly isPlaying: boolean;
  /** What went wrong with the sound, in words, or null. */
  readonly failure: string | null;
  /** Index of the bar of the form that sounds, or null. */
  readonly current: number | null;
  hear(line: WrittenLine, isLooping: boolean): void;
  stop(): void;
}

/** Lines of one chorus over a form at a steady tempo, beats per minute. */
export function useLineHearing(form: Form, tempoBpm: number): LineHearing {
  const { settings } = useProgram();
  const [current, setCurrent] = useState<number | null>(null);
  const { isPlaying, failure, hear, stop } = useHearing();
  return {
    isPlaying,
    failure,
    current,
    stop,
    hear(line, isLooping) {
      const choruses = isLooping ? LOOPED_CHORUSES : 1;
      const tempo = { kind: 'steady', tempoBpm } as const;
      const clock = createBeatClock(form, tempo);
      // Again and again, the beginning is what closes it.
      const once = lineScore(isLooping ? { ...line, closing: null } : line, clock);
      const chorusMs = clock.timeMs(line.beats);
      const notes = Array.from({ length: choruses }, (_, chorus) =>
        once.map((note) => ({ ...note, atMs: note.atMs + chorus * chorusMs })),
      ).flat();
      const band = accompaniment(form, { tempo, choruses, swing: line.swing }, settings.sound);
      void hear(mergeScores(notes.values(), band), (timeMs) => {
        const sounds = timeMs !== null && timeMs >= 0 && timeMs < choruses * chorusMs;
        setCurrent(sounds ? barAt(form, clock.beatAt(timeMs % chorusMs)) : null);
      });
    },
  };
}

/** Hours at any tempo: it is stopped by hand. */
const LOOPED_CHORUSES = 100;

/** Index of the bar of the form at a beat of the chorus. */
function barAt(form: Form, beat: number): number {
  const place = placeInForm(form, beat);
  return form.bars.findIndex(({ bar }) => bar === place?.bar);
}
