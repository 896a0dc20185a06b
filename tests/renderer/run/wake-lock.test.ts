/** The screen during a take. The API is stood in for. Source: Screen Wake Lock API, W3C. */

import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { keepAwake } from '../../../src/renderer/run/wake-lock.ts';

interface FakeLock {
  released: boolean;
  release(): Promise<void>;
}

class FakePage extends EventTarget {
  visibilityState: DocumentVisibilityState = 'visible';

  /** As the API has it: the browser lets go of every lock of a page that is hidden. */
  show(isVisible: boolean): void {
    this.visibilityState = isVisible ? 'visible' : 'hidden';
    if (!isVisible) for (const lock of locks) lock.released = true;
    this.dispatchEvent(new Event('visibilitychange'));
  }
}

let locks: FakeLock[];
let refuses: boolean;
let page: FakePage;
let take: AbortController;

const awake = (): number => locks.filter(({ released }) => !released).length;
const turn = (): Promise<void> => new Promise((resolve) => setImmediate(resolve));

beforeEach(() => {
  locks = [];
  refuses = false;
  page = new FakePage();
  take = new AbortController();
  const wakeLock = {
    async request() {
      if (refuses) throw new DOMException('low battery', 'NotAllowedError');
      const lock: FakeLock = {
        released: false,
        async release() {
          lock.released = true;
        },
      };
      locks.push(lock);
      return lock;
    },
  };
  vi.stubGlobal('navigator', { wakeLock });
});
afterEach(() => vi.unstubAllGlobals());

test('it stays awake for a take, and may sleep after it', async () => {
  keepAwake(take.signal, page);
  await turn();
  expect(awake()).toBe(1);
  take.abort();
  await turn();
  expect(awake()).toBe(0);
  page.show(true);
  await turn();
  expect(locks).toHaveLength(1);
});

test('it is kept awake anew each time the page is seen again, and once at a time', async () => {
  keepAwake(take.signal, page);
  await turn();
  page.show(true);
  await turn();
  expect(locks).toHaveLength(1);
  page.show(false);
  await turn();
  expect(awake()).toBe(0);
  page.show(true);
  page.show(true);
  await turn();
  expect(awake()).toBe(1);
});

test('a take that ends while it is asked leaves nothing awake', async () => {
  keepAwake(take.signal, page);
  take.abort();
  await turn();
  expect(locks).toHaveLength(1);
  expect(awake()).toBe(0);
});

test('a page begun out of sight asks once it is seen', async () => {
  page.visibilityState = 'hidden';
  keepAwake(take.signal, page);
  await turn();
  expect(locks).toHaveLength(0);
  page.show(true);
  await turn();
  expect(awake()).toBe(1);
});

test('without the API, or refused, a take goes on', async () => {
  refuses = true;
  keepAwake(take.signal, page);
  await turn();
  refuses = false;
  page.show(true);
  await turn();
  expect(awake()).toBe(1);
  vi.stubGlobal('navigator', {});
  expect(() => keepAwake(new AbortController().signal, page)).not.toThrow();
});
