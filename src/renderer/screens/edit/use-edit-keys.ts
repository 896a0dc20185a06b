/** Keys of the whole edit screen, wherever on it the focus is: steps back and forth, and the way between text and page. */

import { type RefObject, useLayoutEffect } from 'react';
import type { TextEditor } from './text-editor.ts';

/** In: the editor and what holds the page. Fields keep their own keys while one types in them; the text has its own. */
export function useEditKeys(editor: TextEditor, page: RefObject<HTMLElement | null>): void {
  // Before the page can have the focus: the first key may come at once.
  useLayoutEffect(() => {
    const leaving = new AbortController();
    window.addEventListener(
      'keydown',
      (event) => {
        if (event.defaultPrevented || event.altKey) return;
        const isInText = event.target === editor.element;
        if (event.key === 'F6') {
          if (isInText) page.current?.querySelector<HTMLElement>('[data-focus-home]')?.focus();
          else editor.focus();
        } else {
          const isTyping = isInText || event.target instanceof HTMLInputElement;
          if (isTyping || !(event.ctrlKey || event.metaKey)) return;
          const key = event.key.toLowerCase();
          if (key === 'z') (event.shiftKey ? editor.redo : editor.undo)();
          else if (key === 'y') editor.redo();
          else return;
        }
        event.preventDefault();
      },
      { signal: leaving.signal },
    );
    return () => leaving.abort();
  }, [editor, page]);
}
