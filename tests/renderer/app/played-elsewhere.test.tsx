// @vitest-environment happy-dom
/** A second window says where the take is played. Own rule: one take is played at a time. */

import { act, cleanup, screen } from '@testing-library/react';
import { afterEach, expect, test } from 'vitest';
import { PlayedElsewhere } from '../../../src/renderer/app/played-elsewhere.tsx';
import { fakeHost, renderInProgram } from '../../helpers/program-around.tsx';

const TAKE = {
  takeId: 'take',
  chartId: 'pier',
  chartTitle: 'Long Pier',
  startedAtMs: new Date(2026, 10, 29, 18, 2).getTime(),
};

/** The host as this window hears it; the take under way may be another from one answer to the next. */
function hostWith(first: object | null) {
  let take = first;
  const host = fakeHost({ answers: { 'takes.open': () => ({ take }) } });
  return {
    host,
    async change(next: object | null): Promise<void> {
      take = next;
      await act(async () => host.push({ kind: 'changed', what: 'takes' }));
    },
  };
}

afterEach(cleanup);

test('a take of another window is told with its chart and time, until it has ended', async () => {
  const { host, change } = hostWith(null);
  renderInProgram(<PlayedElsewhere />, host);
  await act(async () => {});
  expect(screen.queryByRole('status')).toBeNull();
  await change({ ...TAKE, isOwn: false });
  const words = screen.getByRole('status').textContent;
  expect(words).toContain('A take on Long Pier is being played in another window or tab');
  expect(words).toContain('since 18:02.');
  await change(null);
  expect(screen.queryByRole('status')).toBeNull();
});

test('a take of its own is nothing to tell', async () => {
  const { host } = hostWith({ ...TAKE, isOwn: true });
  renderInProgram(<PlayedElsewhere />, host);
  await act(async () => {});
  expect(host.asked.map(({ name }) => name)).toContain('takes.open');
  expect(screen.queryByRole('status')).toBeNull();
});
