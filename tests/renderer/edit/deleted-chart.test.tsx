// @vitest-environment happy-dom
/** A chart that is deleted in one window while it is edited in another: said, and what is typed is kept. Own rule. */

import { act, cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import EditScreen from '../../../src/renderer/screens/edit/edit-screen.tsx';
import { openInMemory } from '../../fuzz/library.ts';
import { Around } from '../../helpers/program-around.tsx';

/** Staves are not what is looked at: their font never comes. */
class NoFont {
  load = () => new Promise(() => {});
}

beforeEach(() => void vi.stubGlobal('FontFace', NoFont));
afterEach(() => {
  cleanup();
  vi.unstubAllGlobals();
});

const TEXT = 'title: Cold Pier\nkey: C\nmeter: 4/4\n| Cmaj7 | Dm7 |\n';
const charts = async ({ bridge }: ReturnType<typeof openInMemory>) => {
  const reply = await bridge.ask('charts.list', {});
  if (!reply.ok) throw new Error('not answered');
  return reply.value.filter(({ builtIn }) => !builtIn);
};
const settle = (ms = 0) => act(() => new Promise((done) => setTimeout(done, ms)));

test('is said at once; what is typed after it is stored and comes back with the chart', async () => {
  const library = openInMemory();
  const saved = await library.bridge.ask('charts.save', {
    ...{ chartId: null, title: 'Cold Pier', text: TEXT },
  });
  if (!saved.ok) throw new Error('not saved');
  const { chartId } = saved.value;
  render(
    <Around bridge={library.bridge}>
      <EditScreen chartId={chartId} onDone={() => {}} />
    </Around>,
  );
  await settle(50);
  await screen.findByText('Stored.');

  await act(async () => void (await library.bridge.ask('charts.delete', { chartId })));
  await screen.findByText(/This chart was deleted elsewhere/);
  // A bar is added on the page, as by its key.
  const bar = document.querySelector('[data-chord]');
  if (bar === null) throw new Error('no bar');
  fireEvent.keyDown(bar, { key: 'Insert' });
  await settle(700);
  expect(screen.getByText(/Your text is kept/)).not.toBeNull();
  expect(await charts(library)).toEqual([]);

  fireEvent.click(screen.getByRole('button', { name: 'Bring the chart back' }));
  await screen.findByText('Stored.');
  const [back] = await charts(library);
  expect(back?.chartId).toBe(chartId);
  expect(back?.text).toBe(TEXT.replace('| Cmaj7 |', '| Cmaj7 | % |'));
  library.close();
});
