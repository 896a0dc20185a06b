/** Runs in the page: a score on the browser's own audio clock, and what became of its mapping while the page had trouble. */

import { createTransport, type SoundEvent } from '../../src/renderer/audio/index.ts';

export interface HeardFigures {
  /** How far the mapping lay from what the browser said of its output just then, ms. */
  readonly missesMs: readonly number[];
  /** Doubts and breaks while nothing happened but a page blocked for 350 ms, twice a second. */
  readonly quietDoubts: number;
  readonly quietBreaks: number;
  /** From the suspension to its doubt, from its end to its decision, ms; Infinity: never. */
  readonly doubtedMs: number;
  readonly decidedMs: number;
  readonly breaks: number;
}

const QUIET_MS = 15_000;
const BLOCKED_MS = 350;
const SUSPENDED_MS = 300;

function* clicks(): Generator<SoundEvent> {
  for (let beat = 0; ; beat++) yield { kind: 'click', atMs: beat * 500, strength: 'beat' };
}

const moment = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));

export async function playThroughTrouble(): Promise<HeardFigures> {
  const contexts: AudioContext[] = [];
  const Native = window.AudioContext;
  window.AudioContext = class extends Native {
    constructor(options?: AudioContextOptions) {
      super(options);
      contexts.push(this);
    }
  };
  const volumes = { click: 0.01, bass: 0, pad: 0, note: 0 };
  const performed = await createTransport().play(clicks(), { volumes, midi: null });
  const [context] = contexts;
  if (context === undefined) throw new Error('no sound was opened');
  const told: { readonly atMs: number; readonly isDoubted: boolean }[] = [];
  performed.onBreak(() => {
    told.push({ atMs: performance.now(), isDoubted: performed.isDoubted() });
  }, performed.over);

  const missesMs: number[] = [];
  const startMs = performance.now();
  const zeroMs = ((): number => {
    const { contextTime = 0, performanceTime = 0 } = context.getOutputTimestamp();
    return contextTime * 1000 - performed.scoreMs(performanceTime);
  })();
  while (performance.now() < startMs + QUIET_MS) {
    const blockedUntilMs = performance.now() + BLOCKED_MS;
    while (performance.now() < blockedUntilMs) {
      // Busy.
    }
    const { contextTime = 0, performanceTime = 0 } = context.getOutputTimestamp();
    missesMs.push(Math.abs(performed.scoreMs(performanceTime) + zeroMs - contextTime * 1000));
    await moment(150);
  }
  const quietDoubts = told.filter(({ isDoubted }) => isDoubted).length;
  const quietBreaks = performed.breaks().length;
  told.length = 0;

  // As a system does: whoever resumes it before its time is over is not heard.
  const suspendedMs = performance.now();
  const resume = context.resume.bind(context);
  context.resume = async () => {};
  await context.suspend();
  await moment(SUSPENDED_MS);
  context.resume = resume;
  await resume();
  const resumedMs = performance.now();
  await moment(1500);
  const doubted = told.find(({ isDoubted }) => isDoubted)?.atMs ?? Number.POSITIVE_INFINITY;
  const decided = told.find(({ isDoubted }) => !isDoubted)?.atMs ?? Number.POSITIVE_INFINITY;
  performed.stop();
  return {
    ...{ missesMs, quietDoubts, quietBreaks },
    doubtedMs: doubted - suspendedMs,
    decidedMs: decided - resumedMs,
    breaks: performed.breaks().length - quietBreaks,
  };
}
