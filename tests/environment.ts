/** What the tests tell the programs they start. */

import { mkdtempSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

export const environment = {
  // They are started hundreds of times, and compiled each time anew unless Node may keep what it has compiled.
  NODE_COMPILE_CACHE: mkdtempSync(join(tmpdir(), 'node-compile-cache-')),
  // A command that is started through npm must not empty `node_modules` under all tests.
  LINEKEEPER_INSTALL: 'never',
};
