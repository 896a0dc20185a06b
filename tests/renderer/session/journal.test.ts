/** The journal's promise: whatever fails, everything played is sent, once, in order. Own rule, no outside source. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Bridge } from '../../../shared/bridge/index.ts';
import type { TakeEvent } from '../../../src/core/take/model.ts';
import { createJournal, type JournalState } from '../../../src/renderer/session/journal.ts';

function note(atMs: number): TakeEvent {
  return { kind: 'noteOn', atMs, midi: 60, velocity: 80 };
}

/** A host that stores what it is sent like the real one, and fails or loses its reply when told to. */
function fakeHost(outcomes: ('stored' | 'failed' | 'replyLost')[] = []) {
  const stored: TakeEvent[] = [];
  let calls = 0;
  const ask = (async (_name: string, request: { from: number; events: TakeEvent[] }) => {
    calls++;
    const outcome = outcomes.shift() ?? 'stored';
    if (outcome === 'failed') return refused;
    const known = stored.length - request.from;
    stored.push(...request.events.slice(known));
    return outcome === 'replyLost' ? refused : { ok: true, value: { stored: stored.length } };
  }) as unknown as Bridge['ask'];
  return { stored, asked: () => calls, bridge: { ask } };
}

const refused = {
  ok: false,
  refusal: {
    code: 'diskFull',
    why: { kind: 'system', cause: 'databaseFull', place: null },
  },
} as const;

const beside = () => ({ sources: [], breaks: [] });

type Host = ReturnType<typeof fakeHost>;

/** A journal whose timer never calls. */
function untimedJournal(host: Host, onState: (state: JournalState) => void = () => {}) {
  return createJournal(host.bridge, 'take', beside, onState, () => {});
}

describe('the journal', () => {
  test('stores everything once and in order, whatever calls fail or lose their reply', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.array(fc.constantFrom('stored' as const, 'failed' as const, 'replyLost' as const), {
          maxLength: 12,
        }),
        fc.array(fc.integer({ min: 0, max: 5 }), { maxLength: 12 }),
        async (outcomes, bursts) => {
          const host = fakeHost([...outcomes]);
          let tick = () => {};
          const journal = createJournal(
            host.bridge,
            'take',
            beside,
            () => {},
            (callback) => {
              tick = callback;
            },
          );
          const played: TakeEvent[] = [];
          for (const burst of bursts) {
            for (let key = 0; key < burst; key++) {
              const event = note(played.length);
              played.push(event);
              journal.add(event);
            }
            if (burst % 2 === 0) tick();
            else journal.spare();
            await Promise.resolve();
          }
          for (let tries = 0; tries <= outcomes.length; tries++) await journal.flush();
          expect(host.stored).toEqual(played);
        },
      ),
    );
  });

  test('tells when it has to wait and when it has caught up', async () => {
    const host = fakeHost(['failed', 'stored']);
    const states: JournalState[] = [];
    const journal = untimedJournal(host, (state) => states.push(state));
    journal.add(note(1));
    expect(await journal.flush()).toBe(false);
    expect(await journal.flush()).toBe(true);
    expect(states.map(({ kind }) => kind)).toEqual(['waiting', 'stored']);
  });

  test('events that come while a call is under way are flushed too', async () => {
    const host = fakeHost();
    const journal = untimedJournal(host);
    journal.add(note(1));
    const flushed = journal.flush();
    journal.add(note(2));
    expect(await flushed).toBe(true);
    expect(host.stored.map(({ atMs }) => atMs)).toEqual([1, 2]);
  });

  test('sends at once where there is a moment to spare, and nothing where there is nothing', async () => {
    const host = fakeHost();
    const journal = untimedJournal(host);
    journal.spare();
    expect(host.asked()).toBe(0);
    journal.add(note(1));
    journal.spare();
    await Promise.resolve();
    expect([host.asked(), host.stored.length]).toEqual([1, 1]);
  });

  test('without such a moment, whatever was there at one look is sent with the next, 50 ms later', async () => {
    const host = fakeHost();
    let look = () => {};
    let everyMs = 0;
    const journal = createJournal(
      host.bridge,
      'take',
      beside,
      () => {},
      (callback, ms) => {
        look = callback;
        everyMs = ms;
      },
    );
    journal.add(note(1));
    look();
    expect(host.stored).toEqual([]);
    journal.add(note(2));
    look();
    await Promise.resolve();
    expect([everyMs, host.stored.length]).toEqual([50, 2]);
  });
});
