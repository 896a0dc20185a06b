/** The example before a take: written, then heard to its end. */

import { fromPromise } from 'xstate';
import { describeLineProblem, type WrittenLine } from '../../../core/line/index.ts';
import { type Performance, pianoSoon } from '../../audio/index.ts';
import type { RunWish } from '../../prepare/run-wish.ts';
import { stageSettings } from '../../session/accompaniment.ts';
import { exampleLine, exampleScore } from '../../session/example-chorus.ts';
import type { HearInput, PrepareInput } from '../machine.ts';
import type { RunMeans } from './means.ts';
import { gradeAt } from './take-set-up.ts';

/** Writes the example that is wished, another one each time; null where none is. */
export function preparing({ heard }: Pick<RunWish, 'heard'>, { seed }: Pick<RunMeans, 'seed'>) {
  let written = 0;
  return fromPromise<WrittenLine | null, PrepareInput>(async ({ input }) => {
    if (heard === null) return null;
    const { practice, lastMidi } = input;
    const { register, style, density } = heard;
    const wish = { register, style, density, seed: seed + ++written, lastMidi };
    const line = exampleLine(practice.form, gradeAt(practice), wish);
    if (!line.ok) throw new Error(line.problems.map(describeLineProblem).join(' '));
    await pianoSoon();
    return line.value;
  });
}

/** Sounds an example until it is over or nobody waits for it any more; tells what is heard of it, and null when no more. */
export function hearing(
  { transport, sound }: Pick<RunMeans, 'transport' | 'sound'>,
  onHeard: (performance: Performance | null) => void,
) {
  return fromPromise<void, HearInput>(async ({ input, signal }) => {
    const { practice, line } = input;
    const settings = sound();
    const score = exampleScore(practice.form, gradeAt(practice), settings, line);
    const over = Promise.withResolvers<void>();
    const stage = { ...stageSettings(settings), onEnd: over.resolve };
    const heard = await transport.play(score, stage, signal);
    onHeard(heard);
    heard.over.addEventListener('abort', () => onHeard(null));
    await over.promise;
    heard.stop();
  });
}
