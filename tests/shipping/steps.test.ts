/** Steps of a larger command come to an end, whatever they leave running. */

import { spawn } from 'node:child_process';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { expect, test } from 'vitest';

const steps = pathToFileURL(join(import.meta.dirname, '..', '..', 'scripts', 'steps.mjs')).href;

/** Starts what goes on for ten minutes and says its number; ends itself with a code. */
const leaves = (code: number): string =>
  `const { spawn } = require('node:child_process');
   const left = spawn(process.execPath, ['-e', 'setTimeout(() => {}, 600000)'], { stdio: 'inherit' });
   console.log('left ' + left.pid);
   left.unref();
   setTimeout(() => process.exit(${code}), 50);`;

interface Ended {
  readonly code: number | null;
  readonly said: string;
  readonly left: readonly number[];
}

/** Ends once nobody holds the line that was left open any more. */
function running(...codes: readonly [number, number]): Promise<Ended> {
  const [seen, other] = codes.map((code) =>
    JSON.stringify(['a step', 'node', ['-e', leaves(code)]]),
  );
  const script = `import { stepWithAnother } from '${steps}'; await stepWithAnother(${seen}, ${other});`;
  const child = spawn(process.execPath, ['--input-type=module', '-e', script]);
  let said = '';
  child.stdout.on('data', (data: Buffer) => {
    said += data.toString();
  });
  return new Promise((resolve) =>
    child.on('close', (code) => {
      const left = [...said.matchAll(/^left (\d+)$/gm)].map(([, pid]) => Number(pid));
      resolve({ code, said, left });
    }),
  );
}

test('a step ends when it is over, and what it left running is ended', async () => {
  const { code, said, left } = await running(0, 0);
  expect([code, said.match(/— a step/g)?.length, left.length]).toEqual([0, 2, 2]);
});

test('steps beside each other end with the code of the one that failed, whichever it is', async () => {
  expect((await running(3, 0)).code).toBe(3);
  expect((await running(0, 4)).code).toBe(4);
});
