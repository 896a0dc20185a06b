// @vitest-environment happy-dom
/** One list of commands: the buttons of the head and the menu of the desktop are drawn from it. */

import { cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, expect, test } from 'vitest';
import { COMMANDS, type CommandName } from '../../../shared/commands.ts';
import { menuTemplate } from '../../../src/main/desktop/menu.ts';
import { DOORS, Head } from '../../../src/renderer/app/head.tsx';

afterEach(cleanup);

const NO_ACTIONS = { openDialog() {}, openFile() {}, print() {} };

test('each is a button of the head, which shows where one is', () => {
  const told: CommandName[] = [];
  render(<Head screen={{ name: 'journal' }} onCommand={(name) => told.push(name)} />);
  const buttons = screen.getAllByRole('button');
  for (const button of buttons) fireEvent.click(button);
  expect(told).toEqual(COMMANDS.map(({ name }) => name));
  const current = buttons.filter((button) => button.getAttribute('aria-current') === 'page');
  expect(current.map(({ textContent }) => textContent)).toEqual(['Journal']);
});

test('each is an item of the menu of the desktop, and tells the page its name', () => {
  const told: CommandName[] = [];
  const command = (name: CommandName) => void told.push(name);
  const menu = menuTemplate('linux', [], { ...NO_ACTIONS, command });
  const items = menu.find(({ label }) => label === '&Go')?.submenu;
  if (!Array.isArray(items)) throw new Error('no items');
  expect(items.map(({ label }) => label)).toEqual(COMMANDS.map(({ words }) => words));
  // Electron hands an item its own things, which these do not look at.
  for (const { click } of items) Reflect.apply(click ?? (() => {}), null, []);
  expect(told).toEqual(COMMANDS.map(({ name }) => name));
});

test('all but the help lead to a screen of their own', () => {
  const screens = COMMANDS.map(({ name }) => DOORS[name]?.name ?? null);
  expect(screens.filter((name) => name === null)).toHaveLength(1);
  expect(new Set(screens).size).toBe(COMMANDS.length);
});
