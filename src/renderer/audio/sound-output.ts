/**
 * The page's one audio context: made when sound is first wanted, put to rest after a long silence, and woken again. Knows
 * whether the browser withholds sound until the page is touched.
 */

import { stoppedError } from './stopped.ts';

export interface SoundOutput {
  /** The context, running; waits for a touch where the browser asks for one. Rejects in words, or as stopped. */
  running(signal: AbortSignal): Promise<AudioContext>;
  /** Keeps the context from being put to rest until what it answers is called. */
  use(): () => void;
  /** The context for what sounds as soon as it can. */
  context(): AudioContext;
  isWithheld(): boolean;
  /** Calls back when that has changed; with a first listener it is found out. */
  onState(listener: () => void, signal: AbortSignal): void;
}

/** Silent for so long, the audio device is let go. */
const REST_AFTER_MS = 60_000;
/** A context that may run does so by then. */
const WITHHELD_AFTER_MS = 200;
/** A device that does not sound by then never will. */
const PATIENCE_MS = 4_000;
/** What counts as touching the page. Source: HTML Living Standard, "activation triggering input event". */
const TOUCHES = ['pointerdown', 'pointerup', 'touchend', 'keydown'] as const;

export function createSoundOutput(): SoundOutput {
  let made: AudioContext | null = null;
  let users = 0;
  let rest: ReturnType<typeof setTimeout> | null = null;
  let isWithheld = false;
  let watching: AbortController | null = null;
  const listeners = new Set<() => void>();

  function context(): AudioContext {
    if (made === null || made.state === 'closed') {
      made = new AudioContext({ latencyHint: 'interactive' });
      made.addEventListener('statechange', settle);
    }
    return made;
  }

  function tell(withheld: boolean): void {
    if (withheld === isWithheld) return;
    isWithheld = withheld;
    for (const listener of listeners) listener();
  }

  /** Nothing is withheld from a context that runs. */
  function settle(): void {
    if (made?.state !== 'running') return;
    watching?.abort();
    watching = null;
    tell(false);
    restSoon();
  }

  /** Lets the device go after a long silence, unless somebody uses it. */
  function restSoon(): void {
    if (rest !== null) clearTimeout(rest);
    rest = setTimeout(() => {
      if (users === 0 && made?.state === 'running') void made.suspend();
    }, REST_AFTER_MS);
  }

  /** Asks for sound, and again at each touch of the page until there is some. */
  function wake(): AudioContext {
    const awake = context();
    if (awake.state === 'running') return awake;
    void awake.resume().catch(() => {});
    if (watching !== null) return awake;
    watching = new AbortController();
    const { signal } = watching;
    const look = (): void => {
      if (!signal.aborted) tell(!hasBeenTouched());
    };
    const touched = (): void => {
      void awake.resume().catch(() => {});
      setTimeout(look, WITHHELD_AFTER_MS);
    };
    for (const touch of TOUCHES) {
      window.addEventListener(touch, touched, { signal, capture: true });
    }
    setTimeout(look, WITHHELD_AFTER_MS);
    return awake;
  }

  function use(): () => void {
    users++;
    let isUsed = true;
    return () => {
      if (!isUsed) return;
      isUsed = false;
      users--;
      restSoon();
    };
  }

  return {
    use,
    context: wake,
    isWithheld: () => isWithheld,
    onState(listener, signal) {
      listeners.add(listener);
      signal.addEventListener('abort', () => listeners.delete(listener));
      if (hasBeenTouched()) return;
      try {
        wake();
      } catch {
        // Where there is no sound at all, none is withheld; whoever wants to play is told.
      }
    },
    async running(signal) {
      const awake = wake();
      let untilMs = performance.now() + PATIENCE_MS;
      while (awake.state !== 'running') {
        if (signal.aborted) throw stoppedError();
        if (isWithheld) untilMs = performance.now() + PATIENCE_MS;
        if (performance.now() > untilMs) throw new Error('the sound output does not start');
        await stateOrMoment(awake, signal);
      }
      if (signal.aborted) throw stoppedError();
      return awake;
    },
  };
}

/** Where the browser does not tell, the page is taken to be untouched. */
function hasBeenTouched(): boolean {
  return navigator.userActivation?.hasBeenActive === true;
}

const LOOK_AGAIN_MS = 250;

/** Waits until the state has changed, a moment has passed or it is stopped. */
function stateOrMoment(context: AudioContext, signal: AbortSignal): Promise<void> {
  return new Promise((resolve) => {
    const done = (): void => {
      clearTimeout(timer);
      context.removeEventListener('statechange', done);
      signal.removeEventListener('abort', done);
      resolve();
    };
    const timer = setTimeout(done, LOOK_AGAIN_MS);
    context.addEventListener('statechange', done);
    signal.addEventListener('abort', done);
  });
}
