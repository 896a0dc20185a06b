/** A chart handed over with its melody, on the services themselves. Own rule: nothing that stands beside a chart is lost. */

import { expect, test } from 'vitest';
import { prepareForm } from '../../../src/core/chart/index.ts';
import {
  readHandOver,
  takeHandOver,
  writeHandOver,
} from '../../../src/renderer/prepare/hand-over.ts';
import { firstChoice, NO_HAND, setUpOf } from '../../../src/renderer/prepare/practice-choice.ts';
import { openInMemory } from '../../fuzz/library.ts';
import { MELODY } from '../../helpers/library.ts';

const chart = { title: 'Cold Pier', text: 'title: Cold Pier\nkey: C\nmeter: 4/4\n| Cmaj7 |\n' };

function handed(melody: typeof MELODY | null) {
  const file = writeHandOver({ ...chart, melody }, firstChoice(), '', null);
  const read = readHandOver(new TextEncoder().encode(file));
  if (!read.ok) throw new Error(read.problems.join());
  return { file, handOver: read.value };
}

test('a melody comes with a new chart, and to one that is here without', async () => {
  for (const isHere of [false, true]) {
    const { bridge, close } = openInMemory();
    if (isHere) await bridge.ask('charts.save', { chartId: null, ...chart });
    const taken = await takeHandOver(bridge, handed(MELODY).handOver);
    if (!taken.ok) throw new Error(taken.problems.join());
    const { chartId } = taken.value;
    const kept = await bridge.ask('charts.melody', { chartId });
    expect(kept).toEqual({ ok: true, value: { melody: MELODY } });
    // The one here stays.
    await takeHandOver(bridge, handed({ ...MELODY, leadIn: 0, sounds: [] }).handOver);
    expect(await bridge.ask('charts.melody', { chartId })).toEqual(kept);
    close();
  }
});

test('a file without a melody is what programs without melodies read', () => {
  expect(JSON.parse(handed(null).file)).not.toHaveProperty('melody');
});

test('a file with a take that is opened twice adds neither its chart nor its take twice', async () => {
  const { bridge, close } = openInMemory();
  const prepared = prepareForm(chart.text, firstChoice());
  if (!prepared.ok) throw new Error(prepared.problems.join());
  const setUp = setUpOf({ chartId: 'theirs', ...chart }, prepared.value, firstChoice(), NO_HAND);
  const events = [
    { kind: 'noteOn' as const, atMs: 0.00004, midi: 60, velocity: 70 },
    { kind: 'noteOff' as const, atMs: 400, midi: 60 },
  ];
  const take = {
    setUp,
    startedAtMs: 1_699_000_000_000.5,
    endMs: 900,
    sources: [],
    breaks: [],
    events,
  };
  const open = async (own: typeof take) => {
    const file = writeHandOver({ ...chart, melody: null }, firstChoice(), '', own);
    const read = readHandOver(new TextEncoder().encode(file));
    if (!read.ok) throw new Error(read.problems.join());
    const taken = await takeHandOver(bridge, read.value);
    if (!taken.ok) throw new Error(taken.problems.join());
    return taken.value;
  };
  const listed = async () => {
    const takes = await bridge.ask('takes.list', { chartId: null, limit: 10 });
    const charts = await bridge.ask('charts.list', {});
    if (!takes.ok || !charts.ok) throw new Error('not answered');
    const own = charts.value.filter(({ title }) => title === chart.title);
    return [own.length, takes.value.length];
  };
  const first = await open(take);
  expect(await open(take)).toEqual(first);
  expect(await listed()).toEqual([1, 1]);
  // Another take of the same moment is another take: two students began at once.
  await open({
    ...take,
    events: [{ kind: 'noteOn', atMs: 0, midi: 62, velocity: 70 }, ...events.slice(1)],
  });
  expect(await listed()).toEqual([1, 2]);
  // What was deleted here comes back.
  if (first.takeId !== null) await bridge.ask('takes.delete', { takeId: first.takeId });
  expect((await open(take)).takeId).not.toBe(first.takeId);
  expect(await listed()).toEqual([1, 2]);
  close();
});
