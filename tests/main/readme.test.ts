/** The README shows real output: its three examples are run and compared with what it prints. */

import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';

const root = join(import.meta.dirname, '..', '..');
const readme = readFileSync(join(root, 'README.md'), 'utf8');

test.each(['grade', 'chart', 'line'])(
  'the output of the %s example is what the command prints',
  (command) => {
    const call = new RegExp(`npm run --silent ${command} -- (shared/.*)`).exec(readme)?.[1] ?? '';
    const script = join(root, 'src', 'main', `${command}.ts`);
    const out = execFileSync(process.execPath, [script, ...call.split(' ')], {
      cwd: root,
      encoding: 'utf8',
      env: { ...process.env, NO_COLOR: '1', COLUMNS: '' },
    });
    expect(out.trim().length).toBeGreaterThan(400);
    expect(readme).toContain(out.trimEnd());
  },
);
