/** Handing in a take that was ended: until the host has it, however long that is gone. */

import { fromCallback } from 'xstate';
import type { Bridge } from '../../../../shared/bridge/index.ts';
import type { Report } from '../../../core/grading/index.ts';
import { refusalWords } from '../../app/refusal-words.ts';
import { lastKeyOf } from '../../session/continued-line.ts';
import { isFinal } from '../../session/final-refusal.ts';
import type { LiveTake } from '../../session/live-take.ts';
import type { HandInInput, RunEvent } from '../machine.ts';

const ASK_AGAIN_MS = 250;

/** A take that was ended, on its way to the host. */
export interface EndedTake {
  readonly take: Pick<LiveTake, 'takeId' | 'handIn'>;
  readonly report: Pick<Report, 'slots' | 'extras'>;
  /** Whether its first downbeat came. A take that was left in its count-in is not kept. */
  readonly isPlayed: boolean;
}

export function handingIn(
  bridge: Pick<Bridge, 'ask'>,
  endedTake: (takeId: string) => EndedTake | null,
) {
  return fromCallback<RunEvent, HandInInput, RunEvent>(({ input: { takeId }, sendBack }) => {
    const ended = endedTake(takeId);
    if (ended === null) {
      return sendBack({ type: 'FAILED', sentence: 'There is no take to be handed in.' });
    }
    // Goes on when nobody waits any more: whoever leaves the screen loses nothing.
    void handIn(bridge, ended, (sentence) => sendBack({ type: 'WAITING', sentence })).then(
      sendBack,
    );
  });
}

async function handIn(
  bridge: Pick<Bridge, 'ask'>,
  { take, report, isPlayed }: EndedTake,
  onWaiting: (sentence: string) => void,
): Promise<RunEvent> {
  for (;;) {
    const reply = await take.handIn();
    if (reply.ok) {
      const { kept } = reply.value;
      if (kept && !isPlayed) await bridge.ask('takes.delete', { takeId: take.takeId });
      return { type: 'HANDED_IN', kept: kept && isPlayed, lastMidi: lastKeyOf(report) };
    }
    const sentence = refusalWords(reply.refusal);
    if (isFinal(reply.refusal)) return { type: 'FAILED', sentence };
    onWaiting(sentence);
    await new Promise((resolve) => setTimeout(resolve, ASK_AGAIN_MS));
  }
}
