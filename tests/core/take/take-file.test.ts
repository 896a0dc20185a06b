/** A take saved as MIDI and opened again grades as it did. Own format, described in `docs/take-files.md`. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type GradeSettings,
  gradeTake,
  type ReadingDecision,
} from '../../../src/core/grading/index.ts';
import type { TakeEvents } from '../../../src/core/take/model.ts';
import {
  decodeSmf,
  encodeSmf,
  encodeTakeFile,
  type ReadTake,
  smfFromTake,
  takeFromSmf,
} from '../../../src/core/take/smf/index.ts';
import {
  anyForm,
  anySettings,
  anySourcedSettings,
  anyTake,
  withSources,
} from '../../helpers/arbitrary-take.ts';
import { inOrder, key } from '../../helpers/hand-made.ts';

const METER = { count: 4, unit: 4 } as const;
const TEMPO = { kind: 'steady', tempoBpm: 120 } as const;
/** At 120 quarters a minute and 15 360 ticks each. */
const TICK_MS = 500 / 15_360;

function onTicks(take: TakeEvents): TakeEvents {
  const round = (ms: number): number => Math.round(ms / TICK_MS) * TICK_MS;
  const events = take.events.map((event) => ({ ...event, atMs: round(event.atMs) }));
  return { ...take, events, endMs: round(take.endMs) };
}

function open(bytes: Uint8Array, startMs: number | null = null): ReadTake {
  const file = decodeSmf(bytes);
  const read = file.ok ? takeFromSmf(file.value, startMs) : file;
  if (!read.ok) throw new Error('a file of ours is not read');
  return read.value;
}

function save(
  take: TakeEvents,
  settings: GradeSettings | null,
  decision: ReadingDecision | null = null,
): Uint8Array {
  const key = { tonic: 0, mode: 'major' } as const;
  return encodeTakeFile({ take, tempo: TEMPO, meter: METER, key, name: 'T', settings, decision });
}

/** Times come back through sums of another order; times on ticks end in a five, so the edge of rounding lies elsewhere. */
function rounded(value: unknown): unknown {
  return JSON.parse(
    JSON.stringify(value, (_, part) =>
      typeof part === 'number' && !Number.isInteger(part)
        ? Math.round(part * 1e5 + 0.137) / 1e5 + 0
        : part,
    ),
  );
}

describe('a take saved and opened', () => {
  test.each([
    ['of several keyboards, with breaks', anySourcedSettings, withSources(anyTake)],
    ['of settings that hold for all keyboards', anySettings, withSources(anyTake)],
    ['of one keyboard', anySettings, anyTake],
  ] as const)('%s gives the equal report', (_name, anySet, any) => {
    fc.assert(
      fc.property(anyForm, anySet, any, (form, set, given) => {
        const take = onTicks(given);
        if (!take.events.some(({ kind }) => kind === 'noteOn')) return;
        const settings = { ...set, tempo: TEMPO };
        const { take: opened, settings: read, tempo } = open(save(take, settings));
        const again = gradeTake(form, opened, { level: 'steps', ...read, tempo });
        expect(rounded(again)).toEqual(rounded(gradeTake(form, take, settings)));
      }),
      { numRuns: 60 },
    );
  });

  const line = inOrder([...key(0, 'C4'), ...key(500, 'D4')]);
  const decision: ReadingDecision = {
    reading: {
      kind: 'timing',
      value: { swing: 2, latencyMs: 0 },
      fromSlot: null,
      clears: 9,
      of: 9,
    },
    choice: 'taken',
  };

  test('keeps what the player said to a reading, and names in any letters', () => {
    const sources = [{ name: 'Łódź “keys” \\ 鍵', latencyMs: 12.5, splitMidi: 59 }];
    const read = open(save({ ...line, sources }, null, decision));
    expect([read.decision, read.take.sources]).toEqual([decision, sources]);
    expect(read.notices).toEqual([]);
  });

  test('opened from another downbeat has its breaks where they sounded', () => {
    const bytes = save({ ...line, breaks: [{ fromMs: 400, toMs: 600 }] }, null);
    expect(open(bytes, 500).take.breaks).toEqual([{ fromMs: -100, toMs: 100 }]);
  });

  test.each([
    'linekeeper',
    'linekeeper source',
    'linekeeper source {"name":"P","latencyMs":12}',
    'linekeeper source {"name":"P","latencyMs":1e9,"splitMidi":null}',
    'linekeeper break {"fromMs":2,"toMs":1}',
    'linekeeper settings {"level":"fourths"}',
    'linekeeper settings [1]',
    'linekeeper settings {"level":"steps"',
    'linekeeper decision {"reading":{"kind":"key","value":9},"choice":"taken"}',
    'linekeeper later {"a":1}',
  ])('passes over %s, and says so', (text) => {
    const file = smfFromTake({
      ...{ take: line, tempo: [{ atMs: 0, atQuarter: 0, msPerQuarter: 500 }], meter: METER },
      ...{ keyFifths: 0, minor: false, name: 'T', texts: ['another program', text] },
    });
    const read = open(encodeSmf(file));
    const isOurs = text.startsWith('linekeeper ');
    expect(read.notices).toEqual(isOurs ? [{ code: 'remarksUnread', texts: 1 }] : []);
    expect(read).toMatchObject({ settings: null, decision: null });
    expect(read.take).toMatchObject({ sources: [], breaks: [] });
  });
});
