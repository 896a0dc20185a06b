/** Charts written, sorted, copied, deleted and handed over, by keyboard where a hand is on it anyway. */

import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { describe, expect, test } from 'vitest';
import { passTime } from './controlled-time.ts';
import { drop } from './drop.ts';
import { playFromDownbeat } from './fake-keyboard.ts';
import {
  chooseChart,
  SLOPPY,
  saved,
  start,
  startTake,
  stopTake,
  withProgram,
} from './the-program.ts';

const openPage = withProgram();

async function newChart(page: Page, title: string): Promise<void> {
  await page.getByRole('button', { name: 'Write a new chart' }).click();
  await page.getByLabel('Chart text').click();
  await page.keyboard.press('Control+Home');
  await page.keyboard.press('End');
  for (const _ of 'New chart') await page.keyboard.press('Backspace');
  await page.keyboard.type(title);
  await page.getByRole('heading', { name: title }).waitFor();
}

const levelOf = (page: Page) =>
  page.locator('label.field', { hasText: /^Level/ }).locator('select');

/** The text as stored: what the chart's file holds. */
async function storedText(page: Page, title: string): Promise<string> {
  await chooseChart(page, title);
  return readFileSync(await saved(page, 'Save as chart text', 'stored.changes'), 'utf8');
}

describe('a chart written from the keyboard alone', () => {
  test('is the same as text and as page, checked while it is typed, and stored', async () => {
    const { page, seen, done } = await openPage();
    await newChart(page, 'Pantry Stairs');
    await page.locator('.chord').first().focus();
    // Bar 1 from its first letter, then on from bar to bar with Enter; past the last bar the tune goes on.
    const section = ['Dm7 G7', 'Cmaj7', 'Fm7 Bb7', 'Ebmaj7', 'Am7b5', 'D7', 'Gm6', 'C7'];
    const bars = [...section, ...section, ...section, ...section];
    for (const [index, bar] of bars.entries()) {
      if (index > 0) await page.getByLabel(`Chords of bar ${index + 1}`).waitFor();
      await page.keyboard.press('Control+a');
      await page.keyboard.type(bar);
      await page.keyboard.press('Enter');
    }
    await page.getByLabel('Chords of bar 33').waitFor();
    await page.keyboard.press('Control+a');
    await page.keyboard.type('Fq7');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Escape');
    await page.getByText('Read “q7”').first().waitFor();
    await page.getByRole('button', { name: 'Write F7' }).last().click();
    await expect.poll(() => page.getByText('Read “q7”').count()).toBe(0);
    await page.getByRole('button', { name: '← Charts' }).click();
    const text = await storedText(page, 'Pantry Stairs');
    const rows = '| Dm7 G7 | Cmaj7 | Fm7 Bb7 | Ebmaj7 |\n| Am7b5 | D7 | Gm6 | C7 |\n';
    expect(text).toContain(`[A]\n${rows.repeat(4)}| F7 |`);
    expect(seen).toEqual({ errors: [], foreign: [] });
    done();
  });

  test('moves a bar by a semitone, repeats, adds, takes out, and takes each step back', async () => {
    const { page, done } = await openPage();
    await newChart(page, 'Linen Room');
    const bar = (number: number) => page.locator(`[data-bar="${number - 1}"]`).first();
    await bar(1).focus();
    await page.keyboard.press('Alt+ArrowUp');
    await page.getByRole('button', { name: 'Bar 1: Db6' }).waitFor();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('Insert');
    await expect.poll(() => page.locator('.edit-page .bar').count()).toBe(9);
    await page.keyboard.press('Delete');
    await expect.poll(() => page.locator('.edit-page .bar').count()).toBe(8);
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Bar 1: C6' }).waitFor();
    done();
  });

  test('on a narrow page goes from row to row as they are drawn, and nothing sticks out', async () => {
    const { page, context } = await openPage({ viewport: { width: 360, height: 800 } });
    const isWithin = () => page.evaluate(() => document.documentElement.scrollWidth <= innerWidth);
    await chooseChart(page, 'Lantern Walk');
    await expect.poll(() => isWithin()).toBe(true);
    await page.getByRole('button', { name: /^Edit chart/ }).click();
    const bar = (number: number) => page.locator(`.edit-page [data-bar="${number - 1}"]`).first();
    await bar(1).focus();
    await page.keyboard.press('ArrowDown');
    const at = async (number: number) => (await bar(number).boundingBox())?.y ?? 0;
    const below = (await at(2)) === (await at(1)) && (await at(3)) > (await at(1)) ? 3 : 0;
    await expect
      .poll(() => page.locator(':focus').getAttribute('aria-label'))
      .toContain(`Bar ${below}: `);
    await expect.poll(() => isWithin()).toBe(true);
    await context.close();
  });

  test('is stored though its text cannot be read, and tells what to mend', async () => {
    const { page, done } = await openPage();
    await newChart(page, 'Half Written');
    await page.getByLabel('Chart text').click();
    await page.keyboard.press('Control+End');
    await page.keyboard.type('| C | Hx');
    await page.getByText('Read “Hx”').first().waitFor();
    await page.getByRole('button', { name: '← Charts' }).click();
    await page.getByRole('heading', { name: 'Half Written' }).waitFor();
    await page.getByText('Read “Hx”').first().waitFor();
    await expect.poll(() => storedText(page, 'Half Written')).toContain('| C | Hx');
    done();
  });
});

describe('palettes and plans', () => {
  test('are chosen, made by a rule, seen on the page, moved to another key, played and reviewed', async () => {
    const { page, seen, done } = await openPage();
    await chooseChart(page, 'Lantern Walk');
    await page.getByRole('button', { name: 'Duplicate' }).click();
    await page.getByRole('heading', { name: 'Lantern Walk, copy' }).waitFor();
    await page.getByRole('button', { name: /^Edit chart/ }).click();
    const chords = page.locator('.edit-page [data-chord]');
    await chords.first().focus();
    // An alternative, by keyboard: its button is pressed and the page shows it.
    const palette = page.getByRole('region', { name: 'Palette' });
    const alternative = palette.locator('.plain-list button').first();
    const name = (await alternative.textContent()) ?? '';
    await alternative.focus();
    await page.keyboard.press('Enter');
    await palette.getByText('Named in the chart.').waitFor();
    await expect.poll(() => chords.first().textContent()).toContain(name);
    // A set of one's own.
    await palette.getByText('Notes of your own').click();
    const down = palette.locator('.key[aria-pressed="true"]');
    for (let left = await down.count(); left > 3; left--) {
      await down.first().click();
      await expect.poll(() => down.count()).toBe(left - 1);
    }
    await palette.getByRole('button', { name: /^Use / }).click();
    await expect
      .poll(() => palette.getByRole('heading').first().textContent())
      .toMatch(/: .+ .+ .+/);
    await palette.getByRole('button', { name: 'Let the program choose' }).click();
    await expect.poll(() => palette.getByText('Named in the chart.').count()).toBe(0);
    // A plan by a rule: previewed, written, marked, undone in one step.
    const plans = page.getByRole('region', { name: 'Plans' });
    await plans.getByText('Make a plan by a rule').click();
    await plans.getByRole('button', { name: /^Write it in/ }).click();
    await page.locator('.bar.changed').first().waitFor();
    const changed = await page.locator('.bar.changed').count();
    await page.getByRole('button', { name: 'Undo' }).click();
    await expect.poll(() => page.locator('.bar.changed').count()).toBe(0);
    await page.getByRole('button', { name: 'Redo' }).click();
    await page
      .locator('label', { hasText: 'Plan on the page' })
      .locator('select')
      .selectOption({ label: 'tritone substitute' });
    await expect.poll(() => page.locator('.bar.changed').count()).toBe(changed);
    await page
      .locator('label', { hasText: 'Transpose the chart to' })
      .locator('select')
      .selectOption('0');
    await page.getByText('Stored.').waitFor();
    await page.getByRole('button', { name: '← Charts' }).click();
    // The page of the editor has this title too, and a plan to choose.
    await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
    await page
      .locator('label.field', { hasText: /^Plan/ })
      .locator('select')
      .selectOption({ label: 'tritone substitute' });
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByText('steps · tritone substitute · C ·').waitFor();
    await start(page);
    await playFromDownbeat(page, SLOPPY.slice(0, 2));
    await stopTake(page);
    await page.getByText('slots clean').first().waitFor();
    expect(seen).toEqual({ errors: [], foreign: [] });
    done();
  });
});

describe('the library', () => {
  test('changes a shipped chart in a copy, finds by tag, deletes and takes it back', async () => {
    const { page, done } = await openPage();
    await chooseChart(page, 'Slow Swell');
    await page.getByRole('button', { name: 'Duplicate' }).click();
    await page.getByRole('heading', { name: 'Slow Swell, copy' }).waitFor();
    await page.getByLabel('Tags, with commas between').fill('february, duo');
    await page.keyboard.press('Enter');
    await page.getByLabel('Search charts').fill('february');
    await expect.poll(() => page.locator('.chart-choice').count()).toBe(1);
    await page.getByLabel('Search charts').fill('');
    await page.getByRole('button', { name: 'Delete this chart' }).click();
    await page.getByText('“Slow Swell, copy” is deleted.').waitFor();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('heading', { name: 'Slow Swell, copy' }).waitFor();
    done();
  });
});

describe('a hand-over file', () => {
  test('opens in another library ready to play, and a take of it comes back', async () => {
    const teacher = await openPage();
    await chooseChart(teacher.page, 'Long Pier');
    await levelOf(teacher.page).selectOption({ index: 1 });
    await teacher.page.getByText('Goal, and handing this chart over').click();
    await teacher.page.getByLabel('A note to whoever opens it').fill('Bars 7 and 8 first.');
    const path = await saved(teacher.page, 'Save as one file', 'long-pier.linekeeper');
    const handed = readFileSync(path);

    const student = await openPage();
    await drop(student.page, 'long-pier.linekeeper', handed);
    await student.page.getByText('Bars 7 and 8 first.').waitFor();
    await expect.poll(() => levelOf(student.page).inputValue()).toBe('1');
    await startTake(student.page);
    await playFromDownbeat(student.page, SLOPPY.slice(0, 3));
    await passTime(student.page, 500);
    await stopTake(student.page);
    const back = readFileSync(await saved(student.page, 'Save to hand over', 'back.linekeeper'));
    const take = JSON.parse(back.toString()).take;
    expect(take.events.filter(({ kind }: { kind: string }) => kind === 'noteOn')).toHaveLength(3);

    await drop(teacher.page, 'back.linekeeper', back);
    await teacher.page.getByRole('button', { name: 'Save as MIDI' }).waitFor();
    await teacher.context.close();
    await student.context.close();
  });

  test('that is damaged, or of a newer program, says so and changes nothing', async () => {
    const { page, done } = await openPage();
    await drop(page, 'torn.linekeeper', Buffer.from('{"schema":"linekeeper.handover/1","ti'));
    await page.getByText('It is no hand-over file, or it broke off').waitFor();
    await drop(page, 'new.linekeeper', Buffer.from('{"schema":"linekeeper.handover/9"}'));
    await page.getByText('Open it with the newer program').waitFor();
    done();
  });
});
