/**
 * What may be asked twice. When a socket breaks off nobody knows whether the calls under way were done: one that does no
 * more when it is done again is asked again by itself, any other is refused, and the player looks.
 */

import type { CallName } from './contract.ts';

/** Calls that do something else the second time, or a second time what should be done once. */
const ONCE: readonly CallName[] = [
  'library.backup',
  'library.restore',
  'library.beginNew',
  'archive.export',
  'archive.put',
  'archive.import',
  'charts.save',
  'charts.add',
  'takes.begin',
  'takes.add',
];

export function isRepeatable(name: CallName): boolean {
  return !ONCE.includes(name);
}
