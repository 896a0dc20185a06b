/**
 * Where the keyboard goes on when what had the focus is gone: a button that its own press took away, a screen that was
 * left. It goes to the nearest home: an element marked `data-focus-home` in what is left around the place.
 */

const HOME = '[data-focus-home]';

/** Keeps the focus inside an element, which must be focusable itself, until the signal is aborted. */
export function keepFocus(root: HTMLElement, signal: AbortSignal): void {
  /** What had the focus last, and what it stood in, from the inside out. */
  let path: readonly Element[] = [];
  /** A screen is still on its way: its home is gone to when it is there, unless a hand was quicker. */
  let isWaiting = false;
  const dontWait = (): void => {
    isWaiting = false;
  };

  document.addEventListener(
    'focusin',
    ({ target }) => {
      if (target === root || !(target instanceof Element)) return;
      path = pathWithin(root, target);
      isWaiting = false;
    },
    { signal },
  );
  for (const hand of ['keydown', 'pointerdown']) {
    document.addEventListener(hand, dontWait, { signal, capture: true });
  }

  const watch = new MutationObserver(() => {
    const { activeElement } = document;
    if (isWaiting && activeElement === root) goHome(root);
    if (activeElement !== document.body && activeElement !== null) return;
    const [last] = path;
    if (last === undefined || (last.isConnected && !last.matches(':disabled'))) return;
    const left = path.find((element) => element !== last && element.isConnected) ?? root;
    path = [];
    if (goHome(left)) return;
    isWaiting = true;
    root.focus({ preventScroll: true });
  });
  watch.observe(root, { childList: true, subtree: true });
  signal.addEventListener('abort', () => watch.disconnect());

  /** Goes to the first home in an element, or in what is around it; answers whether there is one. */
  function goHome(from: Element): boolean {
    for (const around of pathWithin(root, from)) {
      const home = around.querySelector<HTMLElement>(HOME);
      if (home === null) continue;
      home.focus({ preventScroll: true });
      // Whoever uses the keyboard sees where it went; for a mouse nothing moves.
      if (home.matches(':focus-visible')) home.scrollIntoView({ block: 'nearest' });
      return true;
    }
    return false;
  }
}

/** An element and what it stands in, up to and with the root; nothing for one outside. */
function pathWithin(root: Element, element: Element): readonly Element[] {
  const path: Element[] = [];
  let at: Element | null = element;
  while (at !== null && at !== root) {
    path.push(at);
    at = at.parentElement;
  }
  return at === root ? [...path, root] : [];
}
