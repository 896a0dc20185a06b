/** A take played under a storm of messages, as the play screen runs one, on a clock of the test's own. */

import type { Bridge } from '../../shared/bridge/index.ts';
import { completeSettings, type GradeSettings } from '../../src/core/grading/index.ts';
import { createKeyReader } from '../../src/core/take/key-message.ts';
import type { TakeEvent, TakeEvents, TakeSource } from '../../src/core/take/model.ts';
import { createPortTime } from '../../src/renderer/midi/port-time.ts';
import { type LiveTake, startLiveTake } from '../../src/renderer/session/live-take.ts';
import { formFromText } from './form-from-text.ts';
import { STORM_BEGINS_MS, type Storm, type StormMessage, stormBetween } from './midi-storm.ts';
import { keyboardNamed, PAGE_CLOCK } from './page-clock.ts';
import { setUpFor } from './set-up.ts';

export const STORM_FORM = formFromText('| Cmaj7 | Am7 D7 | Dm7 | G7 |');
export const STORM_SETTINGS: GradeSettings = {
  level: 'thirds',
  tempo: { kind: 'steady', tempoBpm: 120 },
  splitMidi: 55,
  leftHand: true,
  latencyMs: 12,
};
export const FRAME_MS = 1000 / 60;

export interface StormyTake {
  readonly live: LiveTake;
  /** What was sent to be stored, in order of delivery. */
  readonly stored: readonly TakeEvent[];
  /** The keyboards, as they were last sent. */
  sources(): readonly TakeSource[];
  /** How many messages came, and how many of them were events of a take. */
  readonly counts: { messages: number; events: number };
  /** Runs from one moment to another; told after each frame. */
  play(fromMs: number, toMs: number, onFrame?: (frameMs: number) => void): void;
  /** Lets what is still on its way arrive; nothing more is sent. */
  settle(fromMs: number): void;
}

/** Starts it. What is stored is dropped unless it is to be kept: the library has it on disk. */
export function startStormyTake(storm: Storm, isKept: boolean): StormyTake {
  const stored: TakeEvent[] = [];
  const counts = { messages: 0, events: 0 };
  let storedCount = 0;
  let sources: readonly TakeSource[] = [];
  let waiting: readonly StormMessage[] = [];
  const bridge = {
    async ask(name: string, request: Partial<TakeEvents>) {
      if (name !== 'takes.append') return { ok: true, value: {} };
      sources = request.sources ?? [];
      storedCount += request.events?.length ?? 0;
      if (isKept) stored.push(...(request.events ?? []));
      return { ok: true, value: { stored: storedCount } };
    },
  } as unknown as Pick<Bridge, 'ask'>;
  const setUp = { ...setUpFor(), grade: completeSettings(STORM_SETTINGS) };
  const live = startLiveTake(bridge, 'take', STORM_FORM, setUp, keyboardNamed, PAGE_CLOCK);

  /** The page's clock, on which times are positive, at the first downbeat. */
  const pageMs = (timeMs: number): number => timeMs + STORM_BEGINS_MS;
  const played = new Set<number>();
  const ports = Array.from({ length: storm.ports }, () => ({
    readKey: createKeyReader(),
    timeOf: createPortTime(),
  }));

  function deliver({ stampMs, deliveredMs, port, bytes }: StormMessage): void {
    counts.messages++;
    const heard = ports[port];
    if (heard === undefined) return;
    const nowMs = pageMs(deliveredMs);
    const stampPageMs = stampMs === undefined ? undefined : pageMs(stampMs);
    const atMs = heard.timeOf(stampPageMs, { nowMs, aliveMs: nowMs }) - pageMs(0);
    const key: TakeEvent | null =
      bytes === null
        ? { kind: 'allOff', atMs, cause: 'disconnect' }
        : heard.readKey(...bytes, atMs);
    if (key === null) return;
    // What a keyboard lets go of that has not played is no event of the take.
    if (key.kind === 'noteOn' || key.kind === 'pedal') played.add(port);
    if (!played.has(port)) return;
    counts.events++;
    live.key(key, `port ${port}`);
  }

  return {
    live,
    stored,
    sources: () => sources,
    counts,
    play(fromMs, toMs, onFrame = () => {}) {
      run(stormBetween(storm, fromMs, toMs), fromMs, toMs, onFrame);
    },
    settle(fromMs) {
      run([], fromMs, fromMs + 200, () => {});
    },
  };

  function run(
    sent: readonly StormMessage[],
    fromMs: number,
    toMs: number,
    onFrame: (frameMs: number) => void,
  ): void {
    waiting = [...waiting, ...sent].sort((one, other) => one.deliveredMs - other.deliveredMs);
    let at = 0;
    for (let frameMs = fromMs + FRAME_MS; frameMs <= toMs; frameMs += FRAME_MS) {
      for (let next = waiting[at]; next !== undefined && next.deliveredMs <= frameMs; ) {
        deliver(next);
        next = waiting[++at];
      }
      live.tick(frameMs);
      onFrame(frameMs);
    }
    waiting = waiting.slice(at);
  }
}
