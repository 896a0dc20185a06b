/** Full screen by one key, for as long as the stage is there. */

import { useEffect } from 'react';

/** No note of the computer's keys lies on it. */
const KEY = 'KeyF';

export function useFullScreenKey(): void {
  useEffect(() => {
    const leaving = new AbortController();
    window.addEventListener(
      'keydown',
      (event) => {
        if (event.code !== KEY || event.repeat || event.ctrlKey || event.metaKey || event.altKey)
          return;
        void toggleFullScreen();
      },
      { signal: leaving.signal },
    );
    return () => leaving.abort();
  }, []);
}

/** Refused by a browser that allows none, it stays as it is. */
export async function toggleFullScreen(): Promise<void> {
  try {
    if (document.fullscreenElement !== null) await document.exitFullscreen();
    else {
      await document.documentElement.requestFullscreen();
      await keepEscape();
    }
  } catch {
    // The window is as large as it may be.
  }
}

/** Chromium's Keyboard Lock, which no type knows yet: Escape stops the take, and leaves full screen when it is held. */
async function keepEscape(): Promise<void> {
  if (!('keyboard' in navigator)) return;
  const { keyboard } = navigator;
  const canLock = typeof keyboard === 'object' && keyboard !== null && 'lock' in keyboard;
  if (canLock && typeof keyboard.lock === 'function') await keyboard.lock(['Escape']);
}
