/** Keeps the screen from going to sleep while a take is played: the hands are at the piano, not at the computer. */

type WakeLockPage = Pick<Document, 'visibilityState' | 'addEventListener'>;

/**
 * Keeps the screen awake until the signal is aborted. The browser lets go whenever the page is hidden, so it is asked again
 * when the page is seen. Where it cannot be had (no such API, an empty battery) the take goes on all the same.
 * Source: Screen Wake Lock API, W3C Working Draft.
 */
export function keepAwake(signal: AbortSignal, page: WakeLockPage = document): void {
  if (!('wakeLock' in navigator) || signal.aborted) return;
  const { wakeLock } = navigator;
  let held: WakeLockSentinel | null = null;
  const isDone = (): boolean => signal.aborted || (held !== null && !held.released);

  async function ask(): Promise<void> {
    if (isDone() || page.visibilityState !== 'visible') return;
    try {
      const lock = await wakeLock.request('screen');
      if (isDone()) await lock.release();
      else held = lock;
    } catch {
      // Refused: asked again when the page is next seen.
    }
  }

  page.addEventListener('visibilitychange', () => void ask(), { signal });
  signal.addEventListener('abort', () => void held?.release().catch(() => {}), { once: true });
  void ask();
}
