/** The licences of all parts can be read in the program, and cost nothing until they are. */

import { AxeBuilder } from '@axe-core/playwright';
import { expect, test } from 'vitest';
import { withProgram } from './the-program.ts';

const openPage = withProgram();

test('help leads to the licences, fetched when they are asked for', async () => {
  const { page, context, seen } = await openPage();
  const fetched: string[] = [];
  page.on('request', (request) => fetched.push(new URL(request.url()).pathname));
  await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
  await page.keyboard.press('F1');
  const dialog = page.getByRole('dialog');
  await dialog.getByText('Licences', { exact: true }).waitFor();
  expect(fetched.filter((path) => path.includes('licences'))).toEqual([]);
  await dialog.getByText('Licences', { exact: true }).click();
  await dialog.getByText('@vexflow-fonts/bravura').click();
  await dialog.getByText('SIL OPEN FONT LICENSE Version 1.1').filter({ visible: true }).waitFor();
  expect(fetched.filter((path) => path.includes('licences'))).toHaveLength(1);
  const { violations } = await new AxeBuilder({ page }).analyze();
  expect(violations.map(({ id, nodes }) => [id, nodes[0]?.html])).toEqual([]);
  expect(seen.errors).toEqual([]);
  await context.close();
});
