/** Practice that goes on by itself: the next key of a cycle, the tempo that follows the line. */

import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { sentMessages, until } from './controlled-time.ts';
import { playFromDownbeat, playScript, type ScriptedKey } from './fake-keyboard.ts';
import { chooseChart, start, stopTake, withProgram } from './the-program.ts';

const openPage = withProgram();

const ONE_KEY = [{ afterMs: 0, midi: 70, holdMs: 120 }];

test('after its choruses the next key of the cycle follows, told and counted in, each a take of its own', async () => {
  const { page, seen, done } = await openPage();
  await chooseChart(page, 'Lantern Walk');
  await page.getByLabel('Tempo', { exact: true }).fill('300');
  await page.getByLabel('to bar').fill('1');
  await page.getByLabel('Choruses', { exact: true }).fill('1');
  const keys = page.locator('label.field', { hasText: /^Keys/ }).locator('select');
  await keys.selectOption({ label: 'go on in fourths' });
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText('steps · plain · B♭').waitFor();
  // What comes after is said from the start.
  await page.getByText('then in E♭').waitFor();
  await start(page);
  await playFromDownbeat(page, ONE_KEY);
  await until(page, page.getByText('Now in E♭: a count-in, then on.'));
  await until(page, page.getByText('steps · plain · E♭'));
  await playFromDownbeat(page, ONE_KEY);
  await until(page, page.getByText('Now in A♭: a count-in, then on.'));
  // Stopped in the count-in of the third: the second is reviewed, and a take without a note is none.
  await stopTake(page);
  await page.getByText('plan plain, in E♭').waitFor();
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await expect.poll(() => page.locator('.plain-list').first().locator('li').count()).toBe(2);
  expect(seen).toEqual({ errors: [], foreign: [] });
  done();
});

test('in endless play the tempo is raised when two choruses hold, and the raise is told', async () => {
  const { page, done } = await openPage();
  await chooseChart(page, 'Long Pier');
  await page.getByLabel('Tempo', { exact: true }).fill('150');
  await page.getByLabel('to bar').fill('4');
  await page.getByLabel('Endless').check();
  await page.getByLabel('Let the tempo follow the line').check();
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await start(page);
  const slotMs = 60_000 / 150 / 2;
  const upAndDown = [62, 64, 65, 67, 69, 67, 65, 64];
  const line = Array.from({ length: 66 }, (_, slot): ScriptedKey => {
    const midi = upAndDown[slot % upAndDown.length] ?? 62;
    return { midi, afterMs: slot * slotMs, holdMs: 120 };
  });
  await playFromDownbeat(page, line);
  await until(page, page.getByText(/The count-in that follows is at 156\./));
  await until(page, page.getByText(/· 156$/));
  await stopTake(page);
  done();
});

test('an example is heard, answered, and another follows, until it is stopped', async () => {
  const { page, seen, done } = await openPage();
  await chooseChart(page, 'Lantern Walk');
  await page.getByLabel('Tempo', { exact: true }).fill('300');
  await page.getByLabel('to bar').fill('2');
  await page.getByLabel('Choruses', { exact: true }).fill('1');
  await page.locator('label.field', { hasText: /^Keys/ }).locator('select').selectOption('0');
  await heardFirst(page, 'hear a line, answer with your own');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await start(page);
  await until(page, page.getByText('Listen; your chorus follows'));
  await until(page, page.getByText('Answer: your chorus.'));
  await playFromDownbeat(page, ONE_KEY);
  await until(page, page.getByText('Listen; your chorus follows'));
  // Stopped while it sounds: what was answered is reviewed.
  await stopTake(page);
  await page.getByRole('button', { name: '← Charts' }).click();
  await heardFirst(page, 'only the count-in');
  await page
    .getByText(/steps at 300, plan plain/)
    .first()
    .waitFor();
  expect(seen).toEqual({ errors: [], foreign: [] });
  done();
});

test('a line that was heard is played back, but for one note, and the review says which', async () => {
  const { page, seen, done } = await openPage();
  await chooseChart(page, 'Lantern Walk');
  await page.getByLabel('Tempo', { exact: true }).fill('60');
  await page.getByLabel('to bar').fill('1');
  await page.getByLabel('Choruses', { exact: true }).fill('1');
  await heardFirst(page, 'hear a line, play the very same');
  await page.getByText('Grid and rules').click();
  const slots = page.locator('label.field', { hasText: /^Slots/ }).locator('select');
  await slots.selectOption({ label: '1 to the beat' });
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await start(page);
  await until(page, page.getByText('Now the very same line.'));
  const heard = await heardLast(page);
  expect(heard).toHaveLength(4);
  const beatMs = 1000;
  await playFromDownbeat(
    page,
    heard.map(({ at, midi }, index) => ({
      midi: index === 2 ? midi + 1 : midi,
      afterMs: (at / 12) * beatMs,
      holdMs: 120,
    })),
  );
  await stopTake(page);
  await page.getByRole('heading', { name: 'Played back: 3 of 4 notes as heard' }).waitFor();
  await page.getByRole('button', { name: /chorus 1, bar 1, beat 3: .* for / }).click();
  await page.getByText('This chorus on a staff').click();
  await page.locator('.line-staff svg').waitFor();
  expect(seen).toEqual({ errors: [], foreign: [] });
  done();
});

/** Waits until the example has been heard, through which the page moves too, and the player's own chorus begins. */
async function playing(page: Page): Promise<void> {
  await until(page, page.getByText('Now the very same line.'));
  await until(page, page.locator('.stage-bar.current'));
}

test('the next example goes on from the last note played, in the register set under the example line', async () => {
  const { page, done } = await openPage();
  await chooseChart(page, 'Lantern Walk');
  await page.getByLabel('Tempo', { exact: true }).fill('200');
  await page.getByLabel('to bar').fill('1');
  await page.getByLabel('Choruses', { exact: true }).fill('1');
  await heardFirst(page, 'hear a line, play the very same');
  await page.getByText('An example line, written and heard').click();
  await page.getByLabel('Highest key, MIDI').fill('96');
  await page.getByLabel('Lowest key, MIDI').fill('72');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await start(page);
  await playing(page);
  for (const { midi } of await heardLast(page)) expect(midi).toBeGreaterThanOrEqual(72);
  // B flat, almost the highest key there is; over B flat major a step away are A and C.
  await playScript(page, [{ midi: 94, afterMs: 100, holdMs: 120 }]);
  await until(page, page.getByText('Listen; your chorus follows'));
  await playing(page);
  expect([93, 96]).toContain((await heardLast(page))[0]?.midi);
  await stopTake(page);
  done();
});

/** The example that is to be played back, as the host was told of it. */
async function heardLast(
  page: Page,
): Promise<readonly { readonly at: number; readonly midi: number }[]> {
  const begun = (await sentMessages(page)).findLast((text) => text.includes('"model":['));
  return JSON.parse(/"model":(\[.*?\])/u.exec(begun ?? '')?.[1] ?? '[]');
}

async function heardFirst(page: Page, words: string): Promise<void> {
  const field = page.locator('label.field', { hasText: /^Before each take/ });
  await field.locator('select').selectOption({ label: words });
}
