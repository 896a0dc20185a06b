/** Archives piece by piece between host and page, and what is said of them. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Bridge, CallName } from '../../../shared/bridge/index.ts';
import { base64FromBytes, bytesFromBase64 } from '../../../src/renderer/app/base64.ts';
import { fetchArchive, sendArchive } from '../../../src/renderer/library/archive-transfer.ts';
import {
  chartsAndTakes,
  importWords,
  toldLines,
} from '../../../src/renderer/library/library-words.ts';

const MIB = 2 ** 20;

/** A bridge that answers each call by a function, and writes down what it was asked. */
function fakeBridge(answers: Partial<Record<CallName, (request: never) => unknown>>) {
  const asked: [CallName, unknown][] = [];
  const bridge = {
    async ask(name: CallName, request: unknown) {
      asked.push([name, request]);
      const value = answers[name]?.(request as never);
      return value === undefined
        ? {
            ok: false,
            refusal: { code: 'notFound', why: { kind: 'plain', what: 'noSuchArchive' } },
          }
        : { ok: true, value };
    },
  };
  return { bridge: bridge as unknown as Pick<Bridge, 'ask'>, asked };
}

test('bytes come back from base64 as they were', () => {
  fc.assert(
    fc.property(fc.uint8Array({ maxLength: 1000 }), (bytes) => {
      const base64 = base64FromBytes(bytes);
      expect(base64).toBe(Buffer.from(bytes).toString('base64'));
      expect(bytesFromBase64(base64)).toEqual(bytes);
    }),
  );
  const large = Uint8Array.from({ length: 200_003 }, (_, index) => index * 31);
  expect(bytesFromBase64(base64FromBytes(large))).toEqual(large);
});

describe('an export', () => {
  const archive = Uint8Array.from({ length: 25 }, (_, index) => index);
  const told = { name: 'a.zip', bytes: 25, charts: 1, takes: 2, unread: [] };
  const read = ({ from }: { readonly from: number }) => ({
    base64: base64FromBytes(archive.subarray(from, from + 10)),
  });

  test('is fetched in as many pieces as it comes in, and let go', async () => {
    const { bridge, asked } = fakeBridge({
      'archive.export': () => told,
      'archive.read': read,
      'archive.release': () => ({}),
    });
    const shares: number[] = [];
    const fetched = await fetchArchive(bridge, (share) => shares.push(share));
    expect(fetched.ok && Buffer.concat(fetched.pieces)).toEqual(Buffer.from(archive));
    expect(shares).toEqual([10 / 25, 20 / 25, 1]);
    expect(asked.at(-1)).toEqual(['archive.release', { name: 'a.zip' }]);
  });

  test('that breaks off, or cannot be made, is told and not saved', async () => {
    const short = fakeBridge({
      'archive.export': () => ({ ...told, bytes: 26 }),
      'archive.read': read,
    });
    expect(await fetchArchive(short.bridge, () => {})).toMatchObject({
      ok: false,
      refusal: { why: { kind: 'plain', what: 'archiveBrokeOff' } },
    });
    const none = fakeBridge({});
    expect(await fetchArchive(none.bridge, () => {})).toMatchObject({ ok: false });
  });
});

describe('an import', () => {
  const result = {
    added: { charts: 1, takes: 2, settings: 0, devices: 0 },
    alreadyHere: { charts: 0, takes: 0, settings: 0, devices: 0 },
    told: [],
    untold: 0,
  };

  test('hands a file over in pieces of four MiB, in order', async () => {
    const file = new Blob([Buffer.alloc(9 * MIB, 7)]);
    const sizes: number[] = [];
    const { bridge, asked } = fakeBridge({
      'archive.put': ({ base64 }: { readonly base64: string }) => {
        sizes.push(bytesFromBase64(base64).length);
        return { size: 0 };
      },
      'archive.import': () => result,
    });
    expect(await sendArchive(bridge, file, 'one', () => {})).toEqual({ ok: true, value: result });
    expect(sizes).toEqual([4 * MIB, 4 * MIB, MIB]);
    expect(asked.map(([name, request]) => [name, (request as { from?: number }).from])).toEqual([
      ['archive.put', 0],
      ['archive.put', 4 * MIB],
      ['archive.put', 8 * MIB],
      ['archive.import', undefined],
    ]);
  });

  test('stops at the first piece that is refused', async () => {
    const { bridge, asked } = fakeBridge({});
    expect(await sendArchive(bridge, new Blob(['ab']), 'one', () => {})).toMatchObject({
      ok: false,
    });
    expect(asked).toHaveLength(1);
  });

  test('is told in words that count', () => {
    expect(importWords(result)).toBe('1 chart and 2 takes imported.');
    const more = {
      ...result,
      added: { charts: 0, takes: 1, settings: 1, devices: 1 },
      alreadyHere: { charts: 1, takes: 0, settings: 0, devices: 0 },
      told: [
        { kind: 'setting' as const, name: 'split' },
        { kind: 'chartBack' as const, title: 'Long Pier' },
      ],
      untold: 5,
    };
    expect(importWords(more)).toBe('0 charts and 1 take, 2 settings imported. 1 was here already.');
    expect(toldLines(more)).toEqual([
      'The setting “split” differs: the one here stays.',
      'The chart Long Pier was deleted here and is back.',
      'and 5 more of these.',
    ]);
    expect(toldLines(result)).toEqual([]);
    expect(chartsAndTakes(1, 1)).toBe('1 chart and 1 take');
  });
});
