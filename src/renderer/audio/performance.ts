/**
 * One performance of a score: sounds are laid on the audio clock ahead of time, so that a blocked page does not make them
 * late, and its clock tells when each is heard. Where the sound stood still, or moved, a break says so.
 */

import type { TakeBreak } from '../../core/take/model.ts';
import { type ClockNews, createSoundClock, type HeardSpan } from '../clock/index.ts';
import { createHeardReader, outputLatencyMs } from './heard-reading.ts';
import { openMaster } from './master.ts';
import type { SoundEvent, Volumes } from './sound-event.ts';
import { stoppedError } from './stopped.ts';
import { createVoices } from './voices.ts';

/** Sounds are laid this far ahead; the page may be blocked for nearly as long. */
const AHEAD_MS = 400;
/** What is sent to an instrument cannot be taken back everywhere: not further ahead than this. */
const SENT_AHEAD_MS = 100;
/** Five readings fall into 250 ms, late timers included. */
const WAKE_EVERY_MS = 40;
/** The last sound rings on. */
const RINGS_MS = 150;
/** Between starting and the first sound: time for the audio device to wake, and for its clock to be read. */
const LEAD_MS = 500;
const SETTLE_MS = 250;
/** A clock that cannot be read by then is none. */
const PATIENCE_MS = 3_000;

/** Where sounds can go beside the computer's own output: a MIDI instrument. */
export interface MidiSink {
  /** Takes the sounds of a score in order, each before it is due. */
  take(event: SoundEvent): void;
  /** How far ahead of what is sent it has to know the score, ms. */
  readonly looksAheadMs: number;
  /** Sends what is due up to a time of the score, each message for its time of the page. */
  sendUntil(scoreMs: number, pageMsOf: (scoreMs: number) => number): void;
  /** Takes back what was sent ahead and ends what sounds. */
  silence(): void;
}

export interface StageSettings {
  readonly volumes: Volumes;
  /** The instrument that sounds in place of the computer, or null. */
  readonly midi: MidiSink | null;
  /** When the last sound of the score has been heard to its end. The clock goes on until it is stopped. */
  readonly onEnd?: () => void;
}

export interface Performance {
  /** What the system says its sound is late by, ms; in both mappings already. */
  readonly outputLatencyMs: number;
  /** Aborted when it is over: stopped, or because something else is played. */
  readonly over: AbortSignal;
  /** The time of the score that is heard at a time of the page; 0 is the first downbeat. Never goes back. */
  scoreMs(pageMs: number): number;
  /** When a time of the score is heard, as the clocks go now. */
  pageMs(scoreMs: number): number;
  /** Decided so far, in order, on the score's clock. */
  breaks(): readonly TakeBreak[];
  /** Whether it is in doubt now what is heard. */
  isDoubted(): boolean;
  /** What is in doubt until a time of the page, and would be a break if all ended there; null where nothing is. */
  openBreak(pageMs: number): TakeBreak | null;
  /** Calls back when a doubt began or ended, with a break or without. */
  onBreak(listener: () => void, signal: AbortSignal): void;
  stop(): void;
}

/**
 * Starts a score whose sounds come in order on a context that runs; the first one sounds shortly after. `own` ends it,
 * also while it is starting. Rejects in words, or as stopped.
 */
export async function startPerformance(
  context: AudioContext,
  score: Iterator<SoundEvent>,
  settings: StageSettings,
  own: AbortController,
): Promise<Performance> {
  const { midi } = settings;
  const { signal: over } = own;
  const clock = createSoundClock();
  const read = createHeardReader(context);
  const master = openMaster(context);
  const voices = createVoices(context, settings.volumes, master.input);
  const listeners = new Set<() => void>();
  let breaks: readonly TakeBreak[] = [];
  let isStarting = true;
  let isEnded = false;
  let next = score.next();
  const firstMs = next.done === true ? 0 : Math.min(0, next.value.atMs);
  const zeroMs = context.currentTime * 1000 + LEAD_MS - firstMs;
  let endMs = 0;

  function takeUntil(scoreMs: number): void {
    while (next.done !== true && next.value.atMs < scoreMs) {
      const event = next.value;
      endMs = Math.max(endMs, event.atMs + (event.kind === 'click' ? 0 : event.durationMs));
      if (midi === null) voices.lay(event, (zeroMs + event.atMs) / 1000);
      else midi.take(event);
      next = score.next();
    }
  }

  const scoreMs = (pageMs: number): number => clock.heardMs(pageMs) - zeroMs;
  const asBreak = ({ fromMs, toMs }: HeardSpan): TakeBreak => {
    return { fromMs: fromMs - zeroMs, toMs: toMs - zeroMs };
  };
  const pageMs = (timeMs: number): number => clock.pageMs(timeMs + zeroMs);

  function lay(nowMs: number): void {
    if (midi === null) takeUntil(context.currentTime * 1000 - zeroMs + AHEAD_MS);
    if (midi === null || !clock.isKnown()) return;
    const untilMs = scoreMs(nowMs + SENT_AHEAD_MS);
    takeUntil(untilMs + midi.looksAheadMs);
    midi.sendUntil(untilMs, pageMs);
  }

  function hear(news: ClockNews | null): void {
    if (news === null || isStarting) return;
    if (news.kind === 'jumped') breaks = [...breaks, asBreak(news.broken)];
    for (const listener of [...listeners]) listener();
  }

  function wake(): void {
    const nowMs = performance.now();
    if (context.state === 'running') {
      const reading = read();
      if (reading !== null) hear(clock.read(reading, nowMs));
    } else {
      hear(clock.doubt());
      // Not for the player to mend: the score goes on where it stood.
      void context.resume().catch(() => {});
    }
    lay(nowMs);
    if (isEnded || next.done !== true || isStarting || scoreMs(nowMs) < endMs + RINGS_MS) return;
    isEnded = true;
    settings.onEnd?.();
  }

  const timer = setInterval(wake, WAKE_EVERY_MS);
  context.addEventListener('statechange', wake, { signal: over });
  over.addEventListener('abort', () => {
    clearInterval(timer);
    master.shut();
    midi?.silence();
  });
  wake();
  const startedMs = performance.now();
  await moment(SETTLE_MS, over);
  while (!clock.isKnown() && !over.aborted) {
    if (performance.now() - startedMs > PATIENCE_MS) {
      own.abort();
      throw new Error('the sound output has no clock');
    }
    await moment(WAKE_EVERY_MS, over);
  }
  if (over.aborted) throw stoppedError();
  isStarting = false;
  return {
    outputLatencyMs: outputLatencyMs(context),
    over,
    scoreMs,
    pageMs,
    breaks: () => breaks,
    isDoubted: clock.isDoubted,
    openBreak(nowMs) {
      const span = clock.doubted(nowMs);
      return span === null ? null : asBreak(span);
    },
    onBreak(listener, signal) {
      listeners.add(listener);
      signal.addEventListener('abort', () => listeners.delete(listener));
    },
    stop: () => own.abort(),
  };
}

/** Waits so long, or until it is stopped. */
function moment(ms: number, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    if (signal.aborted) return resolve();
    const done = (): void => {
      clearTimeout(timer);
      signal.removeEventListener('abort', done);
      resolve();
    };
    const timer = setTimeout(done, ms);
    signal.addEventListener('abort', done);
  });
}
