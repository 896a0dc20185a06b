// @vitest-environment happy-dom
/** A browser that withholds sound until the page is touched. Source: HTML Standard, "user activation". */

import { act, cleanup, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { WithheldNotice } from '../../../src/renderer/app/withheld-notice.tsx';
import { renderInProgram } from '../../helpers/program-around.tsx';

/** A context that runs once the page has been touched. */
class WithheldContext extends EventTarget {
  state = 'suspended';
  async resume(): Promise<void> {
    if (!activation.hasBeenActive) return new Promise(() => {});
    this.state = 'running';
    this.dispatchEvent(new Event('statechange'));
  }
  async suspend(): Promise<void> {
    this.state = 'suspended';
  }
}

let activation: { hasBeenActive: boolean };

beforeEach(() => {
  vi.useFakeTimers();
  activation = { hasBeenActive: false };
  Object.defineProperty(navigator, 'userActivation', { value: activation, configurable: true });
  vi.stubGlobal('AudioContext', WithheldContext);
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const passing = (ms: number) => act(() => vi.advanceTimersByTimeAsync(ms));

test('an untouched page says so, until it is touched', async () => {
  renderInProgram(<WithheldNotice />);
  await passing(0);
  await passing(1000);
  expect(screen.getByRole('alert').textContent).toContain('Click anywhere');
  activation.hasBeenActive = true;
  document.body.dispatchEvent(new Event('pointerdown', { bubbles: true }));
  await passing(1000);
  expect(screen.queryByRole('alert')).toBeNull();
});

test('a page that was touched says nothing, and opens no sound for it', async () => {
  activation.hasBeenActive = true;
  const opened = vi.fn();
  vi.stubGlobal('AudioContext', opened);
  renderInProgram(<WithheldNotice />);
  await passing(0);
  await passing(1000);
  expect(screen.queryByRole('alert')).toBeNull();
  expect(opened).not.toHaveBeenCalled();
});
