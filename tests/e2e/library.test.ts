/** The library as a whole, as a player meets it: exported, imported, damaged and repaired. */

import { copyFileSync, mkdtempSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import { unzipSync } from 'fflate';
import type { Page } from 'playwright';
import { describe, expect, onTestFinished, test } from 'vitest';
import { openLibrary } from '../../src/main/store/index.ts';
import { fill } from '../helpers/library.ts';
import { type Program, startProgram } from './start-program.ts';
import { folder, saved, withProgram } from './the-program.ts';

const openPage = withProgram();

/** A program that ends with the test, however that ends. */
async function startFor(dataFolder: string): Promise<Program> {
  const program = await startProgram(dataFolder);
  onTestFinished(() => program.stop());
  return program;
}

/** A data folder of twelve takes, with a backup of them. */
async function filledFolder(): Promise<string> {
  const dataFolder = mkdtempSync(join(tmpdir(), 'linekeeper-'));
  const database = openLibrary(join(dataFolder, 'library.sqlite'));
  fill(database, 12);
  database.close();
  const program = await startProgram(dataFolder);
  await expect
    .poll(() => readdirSync(join(dataFolder, 'backups')).join(), { timeout: 30_000 })
    .toMatch(/^library-\S+$/);
  await program.stop();
  return dataFolder;
}

/** Overwrites a page that holds takes, as a failing disk may. */
function damage(dataFolder: string): Buffer {
  const file = join(dataFolder, 'library.sqlite');
  const database = openLibrary(file);
  const leaf = database
    .prepare("SELECT MAX(pageno) AS page FROM dbstat WHERE name = 'takes' AND pagetype = 'leaf'")
    .get();
  database.close();
  const page = Number(leaf?.['page']);
  const bytes = readFileSync(file);
  bytes.fill(0xee, (page - 1) * 4096, page * 4096);
  writeFileSync(file, bytes);
  return bytes;
}

async function openRepair(page: Page): Promise<void> {
  await page.getByRole('heading', { name: 'Your library cannot be opened' }).waitFor();
}

test('a library is exported under Settings and imported into another', async () => {
  const first = await startFor(await filledFolder());
  const { page, context, seen } = await openPage(null, first);
  await page.getByRole('button', { name: 'Settings' }).click();
  await page.getByText('The last backup is of').waitFor();
  const zip = await saved(page, 'Export everything', 'library.zip');
  await page.getByText('2 charts and 13 takes exported.').waitFor();
  expect(Object.keys(unzipSync(readFileSync(zip)))).toContain('manifest.json');
  await page.getByLabel('Import an exported library').setInputFiles(zip);
  await page.getByText('0 charts and 0 takes imported. 18 were here already.').waitFor();
  expect(seen).toEqual({ errors: [], foreign: [] });
  await context.close();

  const second = await openPage();
  await second.page.getByRole('button', { name: 'Settings' }).click();
  await second.page.getByLabel('Import an exported library').setInputFiles(zip);
  await second.page.getByText(/2 charts and 13 takes, \d settings imported/).waitFor();
  await second.page.getByRole('button', { name: 'Charts', exact: true }).click();
  await second.page.getByRole('button', { name: 'Cold Pier' }).waitFor();
  await second.context.close();
});

test('a file that is no archive is refused in words', async () => {
  const { page, done } = await openPage();
  await page.getByRole('button', { name: 'Settings' }).click();
  const letter = join(folder, 'letter.zip');
  writeFileSync(letter, 'dear landlord');
  await page.getByLabel('Import an exported library').setInputFiles(letter);
  await page
    .getByText(/The archive was not imported: it is no zip file.*Nothing was changed/)
    .waitFor();
  done();
});

describe('a damaged library', () => {
  test('is told in the place of all screens, and restored from its backup', async () => {
    const dataFolder = await filledFolder();
    const bytes = damage(dataFolder);
    const program = await startFor(dataFolder);
    const { page, context, seen } = await openPage(null, program);
    await openRepair(page);
    await page.getByText('with 2 charts and 13 takes').waitFor();
    await page.getByRole('button', { name: 'Restore this backup' }).click();
    await page.getByRole('heading', { name: 'The backup is restored.' }).waitFor();
    const aside = readdirSync(dataFolder).find((name) => name.startsWith('set-aside-')) ?? '';
    await page.getByText(aside).waitFor();
    expect(readFileSync(join(dataFolder, aside, 'library.sqlite'))).toEqual(bytes);
    await page.getByRole('button', { name: 'Open the library' }).click();
    await page.getByRole('button', { name: 'Cold Pier' }).waitFor();
    expect(seen).toEqual({ errors: [], foreign: [] });
    await context.close();
  });

  test('is exported as far as it can be read, and an empty one takes the export in', async () => {
    const dataFolder = await filledFolder();
    damage(dataFolder);
    const program = await startFor(dataFolder);
    const { page, context } = await openPage(null, program);
    await openRepair(page);
    const zip = await saved(page, 'Export what can be read', 'salvaged.zip');
    await page.getByText(/takes exported\. \d+ things? could not be read:/).waitFor();
    await page.getByRole('button', { name: 'Begin with an empty library' }).click();
    await page.getByRole('button', { name: 'Yes, begin with an empty library' }).click();
    await page.getByRole('button', { name: 'Open the library' }).click();
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByLabel('Import an exported library').setInputFiles(zip);
    await page.getByText(/takes.* imported\./).waitFor();
    await context.close();
  });

  test.each(['light', 'dark'] as const)(
    'has a screen that axe does not object to in %s, and that a small window holds',
    async (colorScheme) => {
      const dataFolder = await filledFolder();
      damage(dataFolder);
      const program = await startFor(dataFolder);
      const viewport = { width: 640, height: 600 };
      const { page, context } = await openPage({ colorScheme, viewport }, program);
      await openRepair(page);
      await page.getByRole('button', { name: 'Begin with an empty library' }).click();
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect(violations.map(({ id, nodes }) => [id, nodes[0]?.html])).toEqual([]);
      const over = await page.evaluate(
        () => document.documentElement.scrollWidth - document.documentElement.clientWidth,
      );
      expect(over).toBe(0);
      await context.close();
    },
  );
});

test('a backup that cannot be made is told above every screen, and stops nothing', async () => {
  const dataFolder = mkdtempSync(join(tmpdir(), 'linekeeper-'));
  copyFileSync(join(await filledFolder(), 'library.sqlite'), join(dataFolder, 'library.sqlite'));
  writeFileSync(join(dataFolder, 'backups'), 'a file in the place of the folder');
  const program = await startFor(dataFolder);
  const { page, context } = await openPage(null, program);
  await page.getByRole('alert').getByText('No backup could be made in').waitFor();
  await page.getByRole('button', { name: 'Cold Pier' }).waitFor();
  await context.close();
});
