/** What a page is told again when it listens. Own rule, no outside source. */

import { expect, test } from 'vitest';
import { createRecentPushes } from '../../../src/main/loopback/recent-pushes.ts';

test('each change of the last ten seconds, once; no menu item and no file', () => {
  let nowMs = 0;
  const recent = createRecentPushes(() => nowMs);
  recent.add({ kind: 'changed', what: 'charts' });
  nowMs = 4_000;
  recent.add({ kind: 'changed', what: 'takes' });
  recent.add({ kind: 'changed', what: 'takes' });
  recent.add({ kind: 'command', name: 'help' });
  recent.add({ kind: 'file', name: 'a.mid', base64: '' });
  expect(recent.changes()).toEqual([
    { kind: 'changed', what: 'charts' },
    { kind: 'changed', what: 'takes' },
  ]);
  nowMs = 11_000;
  expect(recent.changes()).toEqual([{ kind: 'changed', what: 'takes' }]);
  nowMs = 20_000;
  expect(recent.changes()).toEqual([]);
});
