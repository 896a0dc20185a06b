/** Keyboards that were never calibrated, and continuous pedals, on fake ports. */

import { test } from 'vitest';
import { emitAt, timeOf } from './fake-keyboard.ts';
import { startProgram } from './start-program.ts';
import { chooseChart, withProgram } from './the-program.ts';

const openPage = withProgram();

test('a keyboard never calibrated says so before Start, one press from it, and the way leads back', async () => {
  const own = await startProgram();
  const { page, context } = await openPage({}, own);
  await chooseChart(page, 'Long Pier');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText('Stage piano was never calibrated with this computer').waitFor();
  await page.getByRole('button', { name: 'Calibrate Stage piano' }).click();
  await page.getByRole('heading', { name: 'Calibrate Stage piano' }).waitFor();
  await page.getByRole('button', { name: '← Play' }).click();
  await page.getByRole('button', { name: 'Start' }).waitFor();
  await page.getByText('Stage piano was never calibrated').waitFor();
  await context.close();
  await own.stop();
});

test('a continuous pedal that starts a take does not stop it on its way up', async () => {
  const own = await startProgram();
  const { page, context } = await openPage({}, own);
  const pedal = async (...values: readonly number[]): Promise<void> => {
    for (const value of values) await emitAt(page, await timeOf(page), [0xb0, 64, value]);
  };
  await page.getByRole('button', { name: 'Settings' }).click();
  await page.getByText('Listening to Stage piano').waitFor();
  await page.getByRole('button', { name: 'Start from the piano' }).click();
  await pedal(30, 127, 0);
  await page.getByText('The sustain pedal starts and stops a take.').waitFor();
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await chooseChart(page, 'Long Pier');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText('Listening to Stage piano').waitFor();
  await pedal(118, 95, 70, 50);
  await page.getByRole('button', { name: /^Stop/ }).waitFor();
  await pedal(90, 64, 44, 0);
  await page.getByRole('button', { name: /^Stop/ }).waitFor();
  await context.close();
  await own.stop();
});
