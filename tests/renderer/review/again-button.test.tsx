// @vitest-environment happy-dom
/** Again, from every review: one press, or the key that starts a take, so that the hands stay at the piano. */

import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, expect, test, vi } from 'vitest';
import type { Again } from '../../../src/renderer/prepare/play-again.ts';
import { AgainButton } from '../../../src/renderer/screens/review/again-button.tsx';
import { readPlayerSettings } from '../../../src/renderer/settings/player-settings.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { fakeHost, renderInProgram } from '../../helpers/program-around.tsx';
import { setUpFor } from '../../helpers/set-up.ts';

vi.mock('webmidi', () => import('../../helpers/fake-webmidi.ts'));
afterEach(cleanup);

const AGAIN: Again = { form: formFromText('| C |'), setUp: setUpFor() };

async function shown(start: ReturnType<typeof readPlayerSettings>['start']) {
  const onAgain = vi.fn<(again: Again) => void>();
  const host = fakeHost({ settings: { ...readPlayerSettings({}), start } });
  renderInProgram(<AgainButton again={AGAIN} onAgain={onAgain} />, host);
  const button = await screen.findByRole('button', { name: 'Again' });
  return { onAgain, button };
}

const pressC4 = () => fireEvent.keyDown(document.body, { key: 'z', code: 'KeyZ' });

test('is one press', async () => {
  const { onAgain, button } = await shown({ kind: 'none' });
  expect(screen.queryByText(/^or /)).toBeNull();
  pressC4();
  expect(onAgain).not.toHaveBeenCalled();
  fireEvent.click(button);
  expect(onAgain.mock.calls).toEqual([[AGAIN]]);
});

test('is the start key as well, which it names, and no other', async () => {
  const { onAgain } = await shown({ kind: 'note', midi: 60 });
  expect(screen.getByText('or C4 on the piano')).toBeDefined();
  fireEvent.keyDown(document.body, { key: 'x', code: 'KeyX' });
  expect(onAgain).not.toHaveBeenCalled();
  pressC4();
  expect(onAgain.mock.calls).toEqual([[AGAIN]]);
});
