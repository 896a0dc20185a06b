/** Questions asked before there is a screen. Own rule: an answer is good for the first screen and for nobody later. */

import { expect, test } from 'vitest';
import type { Bridge, CallName, Reply } from '../../../shared/bridge/index.ts';
import { answerAhead, askAhead, forgetAhead } from '../../../src/renderer/bridge/ask-ahead.ts';

/** A host that says of every call how many there were before it, and refuses the devices. */
function countingBridge(): { readonly bridge: Bridge; readonly asked: string[] } {
  const asked: string[] = [];
  const refused = {
    ok: false,
    refusal: { code: 'internal', message: 'No.', remedy: 'None.' },
  } as const;
  const bridge: Bridge = {
    async ask<Name extends CallName>(name: Name): Promise<Reply<Name>> {
      asked.push(name);
      await Promise.resolve();
      return name === 'devices.list' ? refused : ({ ok: true, value: asked.length } as never);
    },
    onPush() {},
    onConnection() {},
  };
  return { bridge, asked };
}

test('all questions are put at once, and each answer is found under its call', async () => {
  const { bridge, asked } = countingBridge();
  const answered = askAhead(bridge);
  expect(asked).toEqual(['library.state', 'settings.get', 'devices.list', 'charts.list']);
  expect(answerAhead(bridge, 'charts.list')).toBeNull();
  await answered;
  expect(answerAhead(bridge, 'charts.list')).toEqual({ ok: true, value: 4 });
  expect(answerAhead(bridge, 'devices.list')?.ok).toBe(false);
  expect(asked).toHaveLength(4);
});

test('what was not asked ahead, or of another host, has no answer', async () => {
  const { bridge } = countingBridge();
  await askAhead(bridge);
  expect(answerAhead(bridge, 'demos.list')).toBeNull();
  expect(answerAhead(countingBridge().bridge, 'charts.list')).toBeNull();
});

test('an answer that is forgotten is given to nobody', async () => {
  const { bridge } = countingBridge();
  await askAhead(bridge);
  forgetAhead(bridge);
  expect(answerAhead(bridge, 'charts.list')).toBeNull();
});
