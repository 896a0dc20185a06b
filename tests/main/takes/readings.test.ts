/**
 * What became of the readings of stored takes: kept when a take is finished, decided and undone, and found when a take from before is
 * opened. Expected values: `grading.md`, "Other readings".
 */

import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { afterEach, describe, expect, test } from 'vitest';
import { openProgram, type Program } from '../../../src/main/open-program.ts';
import { ask } from '../../helpers/ask.ts';
import { newFolder } from '../../helpers/library.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const sharedFolder = join(import.meta.dirname, '..', '..', '..', 'shared');
const NOW_MS = Date.UTC(2026, 2, 14, 19);
const SLOTS = 84;

/** The scale of D up and down over a chart in C: F# and C# are outside, nothing else is wrong. */
const IN_D = [62, 64, 66, 67, 69, 71, 73, 74, 73, 71, 69, 67, 66, 64];
const EVENTS = Array.from({ length: SLOTS }, (_, slot) => {
  const midi = IN_D[slot % IN_D.length] ?? 62;
  return [
    { kind: 'noteOn' as const, atMs: slot * 500, midi, velocity: 70 },
    { kind: 'noteOff' as const, atMs: slot * 500 + 400, midi },
  ];
}).flat();
const OUTSIDE = EVENTS.filter(
  (event) => event.kind === 'noteOn' && [66, 73].includes(event.midi),
).length;

const opened: Program[] = [];
afterEach(async () => {
  for (const program of opened.splice(0)) await program.close();
});

function start(dataFolder: string): Program {
  const settings = { dataFolder, sharedFolder, version: '1.2.3', push() {}, nowMs: () => NOW_MS };
  const program = openProgram({ ...settings, host: 'browser' });
  if (program === null) throw new Error('the folder is locked');
  opened.push(program);
  return program;
}

async function play(program: Program): Promise<string> {
  const { takeId } = await ask(program, 'takes.begin', { setUp: setUpFor(), sources: [] });
  const beside = { sources: [], breaks: [] };
  await ask(program, 'takes.append', { takeId, from: 0, events: EVENTS, ...beside });
  await ask(program, 'takes.finish', { takeId, endMs: SLOTS * 500 });
  return takeId;
}

/** What the take counts for, and where. */
async function counted(program: Program, takeId: string) {
  const { row, setUp, decision } = await ask(program, 'takes.get', { takeId });
  const journal = await ask(program, 'journal.takes', { fromMs: 0, toMs: NOW_MS * 2 });
  const progress = await ask(program, 'progress.practices', { most: null });
  return {
    keys: [row.setUp.key, setUp.key, journal.takes[0]?.key, progress.practices[0]?.key],
    clean: [row.figures?.clean, journal.takes[0]?.clean],
    choice: decision?.choice ?? null,
  };
}

const AS_PLAYED = {
  keys: ['C', 'C', 'C', 'C'],
  clean: [SLOTS - OUTSIDE, SLOTS - OUTSIDE],
  choice: null,
};

describe('a take in another key', () => {
  test('added with what was decided of it before counts by that at once', async () => {
    const program = start(newFolder());
    const played = await play(program);
    const [reading] = (await ask(program, 'takes.get', { takeId: played })).readings ?? [];
    if (reading === undefined) throw new Error('no reading');
    await ask(program, 'takes.delete', { takeId: played });
    const whole = { setUp: setUpFor(), events: EVENTS, sources: [], breaks: [], endMs: 42_000 };
    const decision = { reading, choice: 'taken' as const };
    const { takeId } = await ask(program, 'takes.add', { ...whole, startedAtMs: null, decision });
    expect(await counted(program, takeId)).toEqual({
      ...{ keys: ['D', 'D', 'D', 'D'], clean: [SLOTS, SLOTS], choice: 'taken' },
    });
  });

  test('is kept with its reading, and counts in the key it was played in once that is taken', async () => {
    const program = start(newFolder());
    const takeId = await play(program);
    const [reading] = (await ask(program, 'takes.get', { takeId })).readings ?? [];
    if (reading === undefined) throw new Error('no reading');
    expect(reading).toMatchObject({ kind: 'key', value: 2, clears: OUTSIDE, of: OUTSIDE });
    expect(await counted(program, takeId)).toEqual(AS_PLAYED);

    await ask(program, 'takes.decide', { takeId, decision: { reading, choice: 'taken' } });
    expect(await counted(program, takeId)).toEqual({
      keys: ['D', 'D', 'D', 'D'],
      clean: [SLOTS, SLOTS],
      choice: 'taken',
    });
    // The reading is still known, so that it can be undone.
    expect((await ask(program, 'takes.get', { takeId })).readings?.[0]).toEqual(reading);

    await ask(program, 'takes.decide', { takeId, decision: null });
    expect(await counted(program, takeId)).toEqual(AS_PLAYED);

    await ask(program, 'takes.decide', { takeId, decision: { reading, choice: 'refused' } });
    expect(await counted(program, takeId)).toEqual({ ...AS_PLAYED, choice: 'refused' });
  });

  test('from before readings were looked for is read when it is opened, and counts until then', async () => {
    const folder = newFolder();
    const before = start(folder);
    const takeId = await play(before);
    await before.close();
    opened.length = 0;
    const database = new DatabaseSync(join(folder, 'library.sqlite'));
    database.exec('UPDATE takes SET readings = NULL');
    const readings = () => database.prepare('SELECT readings FROM takes').get()?.['readings'];

    const program = start(folder);
    await ask(program, 'takes.list', { chartId: null, limit: 9 });
    expect(readings()).toBe(null);
    await ask(program, 'takes.get', { takeId });
    expect(JSON.parse(String(readings()))[0]).toMatchObject({ kind: 'key', value: 2 });
    database.close();
  });
});
