// @vitest-environment happy-dom
/**
 * What a screen is shown of the host's answers, however they come: under its own question alone, and never as it was before a
 * change the host has told of. Own laws, no outside source.
 */

import { act, cleanup, renderHook } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, describe, expect, test } from 'vitest';
import {
  type Bridge,
  CALLS,
  type CallName,
  type CallRequest,
  CHANGING,
  type Changing,
  type Push,
} from '../../../shared/bridge/index.ts';
import { AnswersProvider, useAnswer, useRefresh } from '../../../src/renderer/data/index.ts';
import { QUESTIONS, type QuestionName } from '../../../src/renderer/data/questions.ts';

afterEach(cleanup);

interface Asked {
  readonly name: CallName;
  readonly request: unknown;
  answer(value: unknown): Promise<void>;
  refuse(): Promise<void>;
}

/** A host each of whose answers waits for the test. */
function waitingHost() {
  const asked: Asked[] = [];
  const listeners = new Set<(push: Push) => void>();
  const bridge = {
    ask: (name: CallName, request: unknown) =>
      new Promise((resolve) => {
        asked.push({
          ...{ name, request },
          answer: (value) => act(async () => resolve({ ok: true, value })),
          refuse: () =>
            act(async () =>
              resolve({
                ok: false,
                refusal: { code: 'notFound', why: { kind: 'plain', what: 'nothingPlayed' } },
              }),
            ),
        });
      }),
    onPush(listener: (push: Push) => void, signal: AbortSignal) {
      listeners.add(listener);
      signal.addEventListener('abort', () => listeners.delete(listener));
    },
    onConnection() {},
  } as unknown as Bridge;
  return {
    asked,
    around: ({ children }: { readonly children: ReactNode }) => (
      <AnswersProvider bridge={bridge}>{children}</AnswersProvider>
    ),
    change: (what: Changing) =>
      act(async () => {
        for (const listener of listeners) listener({ kind: 'changed', what });
      }),
  };
}

/** Shows one question, and notes everything that was ever shown under each request. */
function show<Name extends QuestionName>(name: Name, first: CallRequest<Name> | null) {
  const host = waitingHost();
  const shown: { readonly request: unknown; readonly value: unknown }[] = [];
  const hook = renderHook(
    ({ request }: { readonly request: CallRequest<Name> | null }) => {
      const answer = useAnswer(name, request);
      shown.push({ request, value: answer.value });
      return answer;
    },
    { wrapper: host.around, initialProps: { request: first } },
  );
  return { ...host, ...hook, shown };
}

const PIER = { chartId: 'pier', plan: 'plain', key: 'C', level: 'steps' } as const;
const ALL_HEAT = { plan: null, key: null, level: null, tempoBpm: null, playedAtMs: null } as const;

/** Two requests of every question that has a request of its own. */
const PAIRS: {
  readonly [Name in QuestionName]: readonly [CallRequest<Name>, CallRequest<Name>] | null;
} = {
  'host.info': null,
  'library.state': null,
  'charts.list': null,
  'charts.melody': [{ chartId: 'pier' }, { chartId: 'quay' }],
  'takes.open': null,
  'takes.list': [
    { chartId: 'pier', limit: 50 },
    { chartId: 'quay', limit: 50 },
  ],
  'takes.get': [{ takeId: 'one' }, { takeId: 'two' }],
  'journal.takes': [
    { fromMs: 0, toMs: 1 },
    { fromMs: 1, toMs: 2 },
  ],
  'journal.remarks': null,
  'progress.practices': [{ most: 8 }, { most: null }],
  'progress.practice': [{ practice: PIER }, { practice: { ...PIER, key: 'F' } }],
  'progress.session': [
    { minutes: 20, dailyLimitMinutes: 60, locked: [], skippedIds: [] },
    { minutes: 20, dailyLimitMinutes: 60, locked: [], skippedIds: ['a'] },
  ],
  'progress.ladder': [{ chartId: 'pier' }, { chartId: 'quay' }],
  'progress.heat': [
    { picture: 'rulesByBars', chartId: 'pier', ...ALL_HEAT },
    { picture: 'weeksByBars', chartId: 'pier', ...ALL_HEAT },
  ],
  'settings.get': null,
  'devices.list': null,
  'demos.list': null,
};

const NAMES = Object.keys(QUESTIONS) as QuestionName[];
const OF_TWO = NAMES.filter((name) => PAIRS[name] !== null);

describe.each(OF_TWO)('%s, asked with one request and then with another', (name) => {
  const pair = PAIRS[name];
  const [one, two] = pair ?? [null, null];

  test.each([
    { order: 'the second answered before the first', first: 1, second: 0 },
    { order: 'in the order they were asked', first: 0, second: 1 },
  ])('$order: each answer is shown under its own request alone', async ({ first, second }) => {
    const { asked, shown, result, rerender } = show(name, one);
    rerender({ request: two });
    const values = [{ answerTo: 'one' }, { answerTo: 'two' }];
    expect(asked.map(({ request }) => request)).toEqual([one, two]);
    await asked[first]?.answer(values[first]);
    await asked[second]?.answer(values[second]);
    expect(result.current).toEqual({ value: values[1], failure: null });
    for (const { request, value } of shown) {
      expect([null, values[request === one ? 0 : 1]]).toContainEqual(value);
    }
    // Back at the first: what was answered to it, not to the other.
    rerender({ request: one });
    expect(result.current.value).toEqual(values[0]);
  });

  test('a refusal of the first is not shown under the second', async () => {
    const { asked, result, rerender } = show(name, one);
    rerender({ request: two });
    await asked[0]?.refuse();
    expect(result.current).toEqual({ value: null, failure: null });
    await asked[1]?.answer('two');
    expect(result.current).toEqual({ value: 'two', failure: null });
  });
});

describe.each(NAMES.filter((name) => QUESTIONS[name].length > 0))('%s and a change', (name) => {
  const request = (PAIRS[name]?.[0] ?? {}) as CallRequest<typeof name>;
  const [what = 'host'] = QUESTIONS[name];

  test('during the first load: asked again, and the answer from before is never shown', async () => {
    const { asked, shown, result, change } = show(name, request);
    await change(what);
    expect(asked).toHaveLength(2);
    await asked[0]?.answer('before');
    await asked[1]?.answer('after');
    expect(result.current.value).toBe('after');
    expect(shown.map(({ value }) => value)).not.toContain('before');
  });

  test('during a later load: an older answer that comes after the newer does not win', async () => {
    const { asked, shown, result, change } = show(name, request);
    await asked[0]?.answer('first');
    await change(what);
    await change(what);
    expect(asked).toHaveLength(3);
    await asked[2]?.answer('third');
    await asked[1]?.answer('second');
    expect(result.current.value).toBe('third');
    expect(shown.map(({ value }) => value)).not.toContain('second');
  });

  test('of something else asks nothing again', async () => {
    const { asked, change } = show(name, request);
    await asked[0]?.answer('first');
    const parts: readonly Changing[] = QUESTIONS[name];
    for (const other of CHANGING) if (!parts.includes(other)) await change(other);
    expect(asked).toHaveLength(1);
  });
});

describe('what nobody shows', () => {
  test('is asked for again after a change, and shown as it is then', async () => {
    const host = waitingHost();
    const { result, rerender, shown } = (() => {
      const seen: unknown[] = [];
      const hook = renderHook(
        ({ takeId }: { readonly takeId: string }) => {
          const { value } = useAnswer('takes.get', { takeId });
          seen.push(value);
          return value;
        },
        { wrapper: host.around, initialProps: { takeId: 'one' } },
      );
      return { ...hook, shown: seen };
    })();
    await host.asked[0]?.answer('one before');
    rerender({ takeId: 'two' });
    await host.change('takes');
    shown.length = 0;
    rerender({ takeId: 'one' });
    const [, , , asked] = host.asked;
    expect(asked?.request).toEqual({ takeId: 'one' });
    await asked?.answer('one after');
    expect(result.current).toBe('one after');
    expect(shown).not.toContain('one before');
  });

  test('and whose answer was under way at the change, is not kept from before it', async () => {
    const { asked, rerender, result, change } = show('takes.get', { takeId: 'one' });
    rerender({ request: { takeId: 'two' } });
    await change('takes');
    await asked[0]?.answer('one before');
    rerender({ request: { takeId: 'one' } });
    expect(result.current.value).toBeNull();
    await asked.at(-1)?.answer('one after');
    expect(result.current.value).toBe('one after');
  });
});

test('who asks again waits for the answer of now, though a change is told meanwhile', async () => {
  const host = waitingHost();
  const { result } = renderHook(
    () => ({ refresh: useRefresh(), ...useAnswer('settings.get', {}) }),
    { wrapper: host.around },
  );
  await host.asked[0]?.answer('before');
  let isDone = false;
  await act(async () => void result.current.refresh('settings.get').then(() => (isDone = true)));
  await host.change('settings');
  await host.asked[1]?.answer('read before the change');
  expect(isDone).toBe(false);
  await host.asked.at(-1)?.answer('after');
  expect({ isDone, value: result.current.value }).toEqual({ isDone: true, value: 'after' });
});

test('without a request nothing is asked', async () => {
  const { asked, result } = show('takes.get', null);
  await act(async () => {});
  expect(asked).toEqual([]);
  expect(result.current).toEqual({ value: null, failure: null });
});

test('what fails is told in words, keeps what there was, and is over with the next answer', async () => {
  const { asked, result, change } = show('charts.list', {});
  await asked[0]?.answer(['a chart']);
  await change('charts');
  await asked[1]?.refuse();
  expect(result.current).toEqual({
    value: ['a chart'],
    failure: 'Nothing of this was played. Open the page again.',
  });
  await change('charts');
  await asked[2]?.answer(['another']);
  expect(result.current).toEqual({ value: ['another'], failure: null });
});

test('every call that a page reads by is a question here, or changes something', () => {
  const reads =
    /\.(list|get|open|state|info|melody|takes|remarks|practices?|session|ladder|heat)$/u;
  const named = (Object.keys(CALLS) as CallName[]).filter((name) => reads.test(name));
  // What is read once, on the way of adding it.
  expect(named.filter((name) => name !== 'demos.get').toSorted()).toEqual(NAMES.toSorted());
});
