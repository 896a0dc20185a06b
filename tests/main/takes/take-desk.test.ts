/**
 * A take counts however it ended. Source: the figures of a take are those of its stored events, graded by the core; no take is
 * left open, none is left out. Own rules, as `DEVELOPERS.md` tells them.
 */

import { cpSync } from 'node:fs';
import { join } from 'node:path';
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { Push, TakeSetUp } from '../../../shared/bridge/index.ts';
import { hostNoticeWords } from '../../../shared/notice-words.ts';
import { prepareForm } from '../../../src/core/chart/index.ts';
import { gradeTake } from '../../../src/core/grading/index.ts';
import { figuresOf } from '../../../src/core/progress/index.ts';
import type { TakeEvent } from '../../../src/core/take/model.ts';
import { openProgram, type Program } from '../../../src/main/open-program.ts';
import { createTakeStore, openLibrary } from '../../../src/main/store/index.ts';
import { createTakeDesk } from '../../../src/main/takes/index.ts';
import { ask } from '../../helpers/ask.ts';
import { newFolder } from '../../helpers/library.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const sharedFolder = join(import.meta.dirname, '..', '..', '..', 'shared');
const NOW_MS = Date.UTC(2026, 2, 14, 19);
const NOTHING_BESIDE = { sources: [], breaks: [] };

/** Eighths at 60, up and down in steps; every ninth lies outside. */
function line(from: number, until: number): readonly TakeEvent[] {
  const keys = [60, 62, 64, 65, 67, 65, 64, 62, 61];
  return Array.from({ length: until - from }, (_, index) => {
    const slot = from + index;
    const midi = keys[slot % keys.length] ?? 60;
    return [
      { kind: 'noteOn' as const, atMs: slot * 500 + 1.25, midi, velocity: 70 },
      { kind: 'noteOff' as const, atMs: slot * 500 + 400.5, midi },
    ];
  }).flat();
}

function expectedFigures(setUp: TakeSetUp, events: readonly TakeEvent[], endMs: number) {
  const prepared = prepareForm(setUp.chartText, setUp);
  if (!prepared.ok) throw new Error(prepared.problems.join());
  const { form } = prepared.value;
  return figuresOf(gradeTake(form, { events, endMs, ...NOTHING_BESIDE }, setUp.grade), form);
}

const opened: Program[] = [];
afterEach(async () => {
  for (const program of opened.splice(0)) await program.close();
});

function start(dataFolder = newFolder(), push: (push: Push) => void = () => {}): Program {
  const settings = { dataFolder, sharedFolder, version: '1.2.3', push, nowMs: () => NOW_MS };
  const program = openProgram({ ...settings, host: 'browser' });
  if (program === null) throw new Error('the folder is locked');
  opened.push(program);
  return program;
}

/** As a host leaves a folder that is killed: with its lock, and the journal of the database. */
function killed(folder: string): string {
  const left = newFolder();
  cpSync(folder, left, { recursive: true });
  return left;
}

async function beginAndPlay(program: Program, client: string, slots: number, setUp = setUpFor()) {
  const { takeId } = await ask(program, 'takes.begin', { setUp, sources: [] }, client);
  await ask(
    program,
    'takes.append',
    { takeId, from: 0, events: line(0, slots), ...NOTHING_BESIDE },
    client,
  );
  return takeId;
}

/** What every screen shows of the one take there is. */
async function shown(program: Program) {
  const [row] = await ask(program, 'takes.list', { chartId: null, limit: 9 });
  const journal = await ask(program, 'journal.takes', { fromMs: 0, toMs: NOW_MS * 2 });
  const progress = await ask(program, 'progress.practices', { most: null });
  const { take } = await ask(program, 'takes.open', {});
  return {
    row,
    inJournal: journal.takes.map(({ slots, clean }) => ({ slots, clean })),
    inProgress: progress.practices.map(({ takes }) => takes),
    isOpen: take !== null,
  };
}

const events = line(0, 12);
const { slots, clean, evidence: _more, ...changes } = expectedFigures(setUpFor(), events, 5900.5);
const COUNTS = {
  row: { state: 'finished', endMs: 5900.5, figures: { slots, clean, ...changes } },
  inJournal: [{ slots: 12, clean }],
  inProgress: [1],
  isOpen: false,
};

describe('the take of a page that is gone', () => {
  test('counts at once', async () => {
    const program = start();
    await beginAndPlay(program, 'one', 12);
    expect(await shown(program)).toMatchObject({ row: { state: 'recording' }, isOpen: true });
    program.leave('another');
    expect(await shown(program)).toMatchObject({ row: { state: 'recording' }, isOpen: true });
    program.leave('one');
    expect(await shown(program)).toMatchObject(COUNTS);
  });

  test('goes on when the page comes back with more of it, and counts as one', async () => {
    const program = start();
    const takeId = await beginAndPlay(program, 'one', 7);
    program.leave('one');
    await ask(
      program,
      'takes.append',
      { takeId, from: 14, events: line(7, 12), ...NOTHING_BESIDE },
      'one',
    );
    expect(await shown(program)).toMatchObject({ row: { state: 'recording' }, inProgress: [] });
    const finished = await ask(program, 'takes.finish', { takeId, endMs: 5900.5 }, 'one');
    expect(finished).toEqual({ kept: true });
    expect(await shown(program)).toMatchObject(COUNTS);
    // It left only after it had finished it.
    program.leave('one');
    expect(await shown(program)).toMatchObject(COUNTS);
    const more = { takeId, from: 24, events: line(12, 13), ...NOTHING_BESIDE };
    await expect(ask(program, 'takes.append', more, 'one')).rejects.toThrow(/notAllowed/);
  });

  test('that comes back and goes again counts all the same', async () => {
    const program = start();
    const takeId = await beginAndPlay(program, 'one', 7);
    program.leave('one');
    await ask(
      program,
      'takes.append',
      { takeId, from: 10, events: line(5, 12), ...NOTHING_BESIDE },
      'one',
    );
    program.leave('one');
    expect(await shown(program)).toMatchObject(COUNTS);
  });

  test('that was gone before the first note loses none', async () => {
    const program = start();
    const { takeId } = await ask(program, 'takes.begin', { setUp: setUpFor(), sources: [] }, 'one');
    program.leave('one');
    expect(await shown(program)).toMatchObject({ row: undefined, inJournal: [], isOpen: false });
    await ask(program, 'takes.append', { takeId, from: 0, events, ...NOTHING_BESIDE }, 'one');
    await ask(program, 'takes.finish', { takeId, endMs: 5900.5 }, 'one');
    expect(await shown(program)).toMatchObject(COUNTS);
  });
});

describe('a take whose host was killed', () => {
  test('counts after the next start', async () => {
    const folder = newFolder();
    await beginAndPlay(start(folder), 'one', 12);
    const program = start(killed(folder));
    await expect.poll(() => shown(program)).toMatchObject(COUNTS);
  });

  test('goes on when its page finds the next host, whether that has finished it or not', async () => {
    const folder = newFolder();
    const takeId = await beginAndPlay(start(folder), 'one', 7);
    for (const isFinishedBefore of [false, true]) {
      const program = start(killed(folder));
      if (isFinishedBefore) {
        await expect.poll(() => shown(program)).toMatchObject({ row: { state: 'finished' } });
      }
      await ask(
        program,
        'takes.append',
        { takeId, from: 14, events: line(7, 12), ...NOTHING_BESIDE },
        'one',
      );
      // It is played: what goes on in the background leaves it alone.
      await new Promise((resolve) => setTimeout(resolve, 20));
      expect(await shown(program)).toMatchObject({ row: { state: 'recording' } });
      await ask(program, 'takes.finish', { takeId, endMs: 5900.5 }, 'one');
      expect(await shown(program)).toMatchObject(COUNTS);
    }
  });

  test('in which nothing was played yet is there for its page, and gone a start later', async () => {
    const folder = newFolder();
    const { takeId } = await ask(
      start(folder),
      'takes.begin',
      { setUp: setUpFor(), sources: [] },
      'one',
    );
    const left = killed(folder);
    const program = start(left);
    await expect.poll(() => shown(program)).toMatchObject({ row: undefined, inJournal: [] });
    await program.close();
    const later = start(killed(left));
    await expect(
      ask(later, 'takes.append', { takeId, from: 0, events, ...NOTHING_BESIDE }),
    ).rejects.toThrow(/notFound/);
    await ask(program, 'host.info', {}).catch(() => {});
  });
});

describe('one take at a time', () => {
  test('another page is told where it is played, until that one is gone', async () => {
    const pushes: Push[] = [];
    const program = start(newFolder(), (push) => pushes.push(push));
    const takeId = await beginAndPlay(program, 'one', 3);
    expect(pushes).toContainEqual({ kind: 'changed', what: 'takes' });
    expect(await ask(program, 'takes.open', {}, 'one')).toMatchObject({ take: { isOwn: true } });
    expect(await ask(program, 'takes.open', {}, 'two')).toEqual({
      take: { takeId, chartId: 'pier', chartTitle: 'Pier', startedAtMs: NOW_MS, isOwn: false },
    });
    const refused = await program.services(
      'takes.begin',
      { setUp: setUpFor(), sources: [] },
      'two',
    );
    expect(refused).toMatchObject({ ok: false, refusal: { code: 'busy' } });
    pushes.splice(0);
    program.leave('one');
    expect(pushes).toContainEqual({ kind: 'changed', what: 'takes' });
    await beginAndPlay(program, 'two', 3);
    expect(await ask(program, 'takes.open', {}, 'one')).toMatchObject({ take: { isOwn: false } });
  });

  test('a page that begins another has done with the one before', async () => {
    const program = start();
    const takeId = await beginAndPlay(program, 'one', 12);
    await beginAndPlay(program, 'one', 3);
    await expect
      .poll(() => ask(program, 'takes.get', { takeId }))
      .toMatchObject({ row: { state: 'finished', figures: { slots: 12 } } });
  });
});

describe('a take without a note', () => {
  test('is not kept, also when it is finished twice', async () => {
    const program = start();
    const { takeId } = await ask(program, 'takes.begin', { setUp: setUpFor(), sources: [] });
    const pedal = [{ kind: 'pedal', atMs: 3, down: true }] as const;
    await ask(program, 'takes.append', { takeId, from: 0, events: pedal, ...NOTHING_BESIDE });
    for (const _once of [1, 2]) {
      expect(await ask(program, 'takes.finish', { takeId, endMs: 900 })).toEqual({ kept: false });
    }
    expect(await shown(program)).toMatchObject({ row: undefined, inJournal: [], isOpen: false });
    await expect(ask(program, 'takes.get', { takeId })).rejects.toThrow(/notFound/);
  });

  test('is refused when it is added', async () => {
    const whole = {
      setUp: setUpFor(),
      events: [],
      ...NOTHING_BESIDE,
      endMs: 900,
      startedAtMs: null,
      decision: null,
    };
    await expect(ask(start(), 'takes.add', whole)).rejects.toThrow(/no note/);
  });
});

test('a whole take that is added has the figures of its events as they are kept', async () => {
  const program = start();
  const exact = events.map((event) => ({ ...event, atMs: event.atMs + 0.00004 }));
  const whole = {
    setUp: setUpFor(),
    events: exact,
    ...NOTHING_BESIDE,
    endMs: 5900.5,
    startedAtMs: NOW_MS,
    decision: null,
  };
  await ask(program, 'takes.add', whole);
  expect(await shown(program)).toMatchObject(COUNTS);
});

describe('what cannot be graded', () => {
  test('is kept and named, and the others count', async () => {
    const folder = newFolder();
    const program = start(folder);
    const unreadable = { ...setUpFor('torn'), chartTitle: 'Torn', chartText: 'title: Torn\n| H |' };
    const torn = await beginAndPlay(program, 'one', 3, unreadable);
    program.leave('one');
    await beginAndPlay(program, 'one', 12);
    program.leave('one');
    const { notices } = await ask(program, 'host.info', {});
    expect(notices.map(hostNoticeWords)).toEqual([
      expect.stringMatching(/^The take of 2026-03-14 on Torn does not count: its chart cannot/),
    ]);
    expect(await ask(program, 'takes.get', { takeId: torn })).toMatchObject({
      row: { state: 'finished', figures: null },
      events: line(0, 3),
    });
    const progress = await ask(program, 'progress.practices', { most: null });
    expect(progress.practices).toMatchObject([{ chartId: 'pier' }]);
    await ask(program, 'takes.delete', { takeId: torn });
    expect(await ask(program, 'host.info', {})).toMatchObject({ notices: [] });
  });

  test('because its events are damaged is left as it is, named, and the others count', async () => {
    const folder = newFolder();
    const before = start(folder);
    const spoilt = await beginAndPlay(before, 'one', 3);
    await ask(
      before,
      'takes.append',
      { takeId: spoilt, from: 6, events: line(3, 5), ...NOTHING_BESIDE },
      'one',
    );
    const left = killed(folder);
    const database = openLibrary(join(left, 'library.sqlite'));
    database.exec("UPDATE take_chunks SET bytes = x'ff' WHERE from_event = 6");
    const whole = createTakeStore(database).begin(setUpFor(), NOW_MS + 1);
    createTakeStore(database).append(whole, 0, events);
    database.close();
    const program = start(left);
    const states = async () =>
      (await ask(program, 'takes.list', { chartId: null, limit: 9 })).map(({ state }) => state);
    await expect.poll(states).toEqual(['finished', 'finished']);
    expect(await shown(program)).toMatchObject({ inProgress: [1] });
    const { notices } = await ask(program, 'host.info', {});
    expect(notices.map(hostNoticeWords)).toEqual([
      expect.stringMatching(/on Pier does not count: a part of it is dam/),
    ]);
  });
});

describe('a disk that is full when a page leaves', () => {
  afterEach(() => vi.useRealTimers());

  test('keeps what was played, says so, and the take counts as soon as there is room', async () => {
    vi.useFakeTimers();
    const database = openLibrary(':memory:');
    const takes = createTakeStore(database);
    let changes = 0;
    const desk = createTakeDesk({
      takes,
      nowMs: () => NOW_MS,
      isOpen: () => database.isOpen,
      onChanged: () => void changes++,
      onNotice() {},
      rest: async () => {},
    });
    const takeId = desk.begin('one', setUpFor(), []);
    desk.append('one', takeId, 0, events, NOTHING_BESIDE);
    // What fails on a full disk as on one that may only be read: the writing.
    database.exec('PRAGMA query_only = ON');
    desk.leave('one');
    expect(desk.notices().map(hostNoticeWords)).toEqual([
      expect.stringMatching(/^A take is not finished yet\. The/),
    ]);
    expect(takes.get(takeId)).toMatchObject({ events, row: { state: 'recording' } });
    expect(desk.open('two')).toBeNull();
    await vi.advanceTimersByTimeAsync(10_000);
    const before = changes;
    database.exec('PRAGMA query_only = OFF');
    await vi.advanceTimersByTimeAsync(10_000);
    expect(changes).toBe(before + 1);
    expect(desk.notices()).toEqual([]);
    expect(takes.get(takeId)).toMatchObject({ row: { state: 'finished', figures: { slots: 12 } } });
    database.close();
  });
});

test('a start with many takes left open lets calls in between', async () => {
  const database = openLibrary(':memory:');
  const takes = createTakeStore(database);
  const ids = Array.from({ length: 30 }, (_, index) => {
    const takeId = takes.begin(setUpFor(), index);
    takes.append(takeId, 0, events);
    return takeId;
  });
  const steps: number[] = [];
  const desk = createTakeDesk({
    takes,
    nowMs: () => NOW_MS,
    isOpen: () => database.isOpen,
    onChanged() {},
    onNotice() {},
    rest: async () => void steps.push(takes.unfinished().length),
  });
  await desk.finishLeftOpen();
  // The latest first, and one after the other.
  expect(steps).toEqual(ids.map((_, done) => ids.length - done));
  expect(takes.unfinished()).toEqual([]);
  database.close();
});
