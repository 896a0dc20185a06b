/** Several keyboards, each its own; a continuous pedal. With fake ports, in the test's own time. */

import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { letTimeFlow } from './controlled-time.ts';
import { emitAt, playFromDownbeat, playScript, timeOf } from './fake-keyboard.ts';
import { startProgram } from './start-program.ts';
import {
  chooseChart,
  pressStart,
  SLOPPY,
  savedReport,
  stopTake,
  withProgram,
} from './the-program.ts';

const openPage = withProgram();

/** Plugs another keyboard in, which stands first in the list. */
async function plugInAnother(page: Page): Promise<void> {
  await page.evaluate(() => {
    const { WMT } = window as unknown as { WMT: { MidiSrc: new (name: string) => Another } };
    interface Another {
      connect(): void;
    }
    new WMT.MidiSrc('Another port').connect();
  });
  await page.getByText('Listening to Another port, Stage piano').waitFor();
}

test('with another port listed first, the played keyboard’s latency and split are used', async () => {
  const own = await startProgram();
  const { page, context } = await openPage(null, own);
  await page.getByRole('button', { name: 'Settings' }).click();
  await page.getByText('Listening to Stage piano').waitFor();
  await plugInAnother(page);
  const device = page.getByRole('region', { name: 'Stage piano' });
  await device.getByLabel('Latency with this computer, ms').fill('80');
  await device.getByText('set by hand with this computer: 80.0 ms').waitFor();
  await device.getByRole('button', { name: 'Set the split by a key' }).click();
  await playScript(page, [{ afterMs: 0, midi: 60, holdMs: 50 }]);
  await letTimeFlow(page);
  await device.getByText('line from C4').waitFor();
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await chooseChart(page, 'Long Pier');
  await page.getByLabel('Tempo', { exact: true }).fill('120');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText('Listening to Another port, Stage piano').waitFor();
  await pressStart(page);
  await playFromDownbeat(
    page,
    [...SLOPPY.slice(0, 5), { afterMs: 0, midi: 40, holdMs: 900 }].map((key) => ({
      ...key,
      afterMs: key.afterMs + 80,
    })),
  );
  await stopTake(page);
  const report = await savedReport(page, 'another-port.json');
  expect([report.latencyMs, report.splitMidi]).toEqual([80, 60]);
  const timed = report.slots.flatMap(({ note }) => (note === null ? [] : [note]));
  expect(timed.map(({ midi }) => midi)).toEqual([62, 64, 65, 67, 69]);
  for (const { deviationMs } of timed) expect(Math.abs(deviationMs)).toBeLessThan(10);
  expect(report.extras).toEqual([]);
  await context.close();
  await own.stop();
});

test('a keyboard never calibrated says so before Start, one press from it, and the way leads back', async () => {
  const own = await startProgram();
  const { page, context } = await openPage(null, own);
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
  const { page, context } = await openPage(null, own);
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
