/** A chart handed over with its melody, on the services themselves. Own rule: nothing that stands beside a chart is lost. */

import { expect, test } from 'vitest';
import {
  readHandOver,
  takeHandOver,
  writeHandOver,
} from '../../../src/renderer/prepare/hand-over.ts';
import { firstChoice } from '../../../src/renderer/prepare/practice-choice.ts';
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
