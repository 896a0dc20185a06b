/** A second window while a take is played in the first: it says so, and leaves the take alone. */

import { expect, test } from 'vitest';
import { passTime, until } from './controlled-time.ts';
import { playFromDownbeat } from './fake-keyboard.ts';
import {
  chooseChart,
  SLOPPY,
  savedReport,
  startTake,
  stopTake,
  withProgram,
} from './the-program.ts';

const openPage = withProgram();

test('a second window says where the take is played, starts none, and takes nothing from it', async () => {
  const one = await openPage();
  const other = await openPage();
  await chooseChart(other.page, 'Night Stairs');
  await other.page.getByRole('button', { name: 'Play', exact: true }).click();
  await other.page.getByRole('button', { name: 'Start' }).waitFor();
  const told = other.page.getByText('A take on Long Pier is being played in another window or tab');
  expect(await told.count()).toBe(0);
  await startTake(one.page);
  await until(one.page, one.page.getByRole('button', { name: /^Stop/ }));
  await told.waitFor();
  await other.page.getByRole('button', { name: 'Start' }).click();
  await other.page.getByText('A take on Long Pier is being played in another window.').waitFor();
  await playFromDownbeat(one.page, SLOPPY.slice(0, 4));
  await passTime(one.page, 300);
  expect(await one.page.getByText('in another window').count()).toBe(0);
  await stopTake(one.page);
  await told.waitFor({ state: 'detached' });
  const report = await savedReport(one.page, 'first-window.json');
  const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
  expect(played).toEqual(SLOPPY.slice(0, 4).map(({ midi }) => midi));
  await one.context.close();
  await other.context.close();
});
