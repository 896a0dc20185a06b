// @vitest-environment happy-dom
/** A MIDI file that says how it was graded is opened as the command would grade it: `docs/take-files.md`. */

import { cleanup, fireEvent, screen, waitFor } from '@testing-library/react';
import { afterEach, describe, expect, test } from 'vitest';
import { encodeTakeFile, type TakeForMidi } from '../../../src/core/take/smf/index.ts';
import { parseKey } from '../../../src/core/theory/index.ts';
import { LEVEL_WORDS } from '../../../src/renderer/app/words.ts';
import OpenScreen from '../../../src/renderer/screens/open/open-screen.tsx';
import { fakeHost, renderInProgram } from '../../helpers/program-around.tsx';

afterEach(cleanup);

const CHART = 'title: Long Pier\nkey: C\nmeter: 4/4\n| Cmaj7 | Dm7 |\n';
const KEY = parseKey('C');
if (KEY === null) throw new Error('no key');
const EVENTS = [60, 62, 64, 65].flatMap((midi, slot) => [
  { kind: 'noteOn' as const, atMs: slot * 500, midi, velocity: 70 },
  { kind: 'noteOff' as const, atMs: slot * 500 + 400, midi },
]);
const DECISION = {
  reading: { kind: 'key', value: 2, fromSlot: null, clears: 40, of: 52 },
  choice: 'taken',
} as const;

function fileThatSays(says: Pick<TakeForMidi, 'settings' | 'decision'>): Uint8Array {
  return encodeTakeFile({
    take: { events: EVENTS, endMs: 2000, sources: [], breaks: [] },
    tempo: { kind: 'steady', tempoBpm: 60 },
    ...{ meter: { count: 4, unit: 4 }, key: KEY ?? raise(), name: 'T', ...says },
  });
}

function raise(): never {
  throw new Error('no key');
}

function open(bytes: Uint8Array) {
  const row = { chartId: 'pier', title: 'Long Pier', text: CHART };
  const rest = { builtIn: false, tags: [], lastPlayedAtMs: null };
  const host = fakeHost({
    answers: {
      'charts.list': () => [{ ...row, ...rest }],
      'takes.add': () => ({ takeId: 'added' }),
    },
  });
  const reviewed: string[] = [];
  renderInProgram(
    <OpenScreen
      file={{ name: 'evening.mid', bytes }}
      chartId={null}
      onReview={(takeId) => reviewed.push(takeId)}
      onBack={() => {}}
    />,
    host,
  );
  return { host, reviewed };
}

const field = <Field extends HTMLElement>(label: string) => screen.findByLabelText<Field>(label);

/** What a select shows as chosen. */
async function chosen(label: string): Promise<string | undefined> {
  return (await field<HTMLSelectElement>(label)).selectedOptions[0]?.textContent ?? undefined;
}

async function added({ host, reviewed }: ReturnType<typeof open>): Promise<unknown> {
  fireEvent.click(await screen.findByRole('button', { name: 'Grade this take' }));
  await waitFor(() => expect(reviewed).toEqual(['added']));
  return host.asked.find(({ name }) => name === 'takes.add')?.request;
}

describe('a file that says how it was graded', () => {
  const settings = {
    level: 'thirds' as const,
    ...{ choruses: 3, swing: 1.5, leftHand: true, splitMidi: 50, latencyMs: 20 },
    approach: 'flag' as const,
  };

  test('is opened with its level, planned end, rules, split and decision', async () => {
    const opened = open(fileThatSays({ settings, decision: DECISION }));
    expect(await chosen('Level')).toBe(LEVEL_WORDS.thirds);
    expect((await field<HTMLInputElement>('Choruses planned')).value).toBe('3');
    expect((await field<HTMLInputElement>('No planned end')).checked).toBe(false);
    expect((await field<HTMLInputElement>('Lowest key of the line (60 is C4)')).value).toBe('50');
    expect(await added(opened)).toMatchObject({
      setUp: { grade: { ...settings, tempo: { kind: 'steady', tempoBpm: 60 } } },
      decision: DECISION,
    });
  });

  test('is graded as the player says all the same', async () => {
    const opened = open(fileThatSays({ settings, decision: DECISION }));
    fireEvent.change(await field('Level'), { target: { value: '2' } });
    fireEvent.click(await field('No planned end'));
    fireEvent.click(await field('Grade by the other reading, as chosen in the file'));
    expect(await added(opened)).toMatchObject({
      setUp: { grade: { level: 'leaps', choruses: null, swing: 1.5 } },
      decision: null,
    });
  });
});

test('a file that says nothing is opened in steps, without a planned end and undecided', async () => {
  const opened = open(fileThatSays({ settings: null, decision: null }));
  expect(await chosen('Level')).toBe(LEVEL_WORDS.steps);
  expect(screen.queryByLabelText(/as chosen in the file/)).toBeNull();
  expect(await added(opened)).toMatchObject({
    setUp: { grade: { level: 'steps', choruses: null } },
    decision: null,
  });
});
