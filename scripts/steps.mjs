// Named steps of a larger command; one that fails ends the whole with its exit code.
import { spawn, spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const binOf = (bin) => join(root, 'node_modules', '.bin', bin);

export function step(name, bin, args) {
  process.stdout.write(`— ${name}\n`);
  const run = spawnSync(binOf(bin), args, { cwd: root, stdio: 'inherit' });
  if (run.status !== 0) process.exit(run.status ?? 1);
}

/** Runs rows of steps beside each other, in each row one step after the other. What a step says is printed when it is done,
 * in one piece; all are asked, so that each failure is seen. */
export async function stepsSideBySide(...rows) {
  const codes = await Promise.all(rows.map(runRow));
  const failed = codes.flat().find((code) => code !== 0);
  if (failed !== undefined) process.exit(failed);
}

async function runRow(row) {
  const codes = [];
  for (const [name, bin, args] of row) codes.push(await quietStep(name, bin, args));
  return codes;
}

function quietStep(name, bin, args) {
  return new Promise((resolve) => {
    const run = spawn(binOf(bin), args, { cwd: root, stdio: ['ignore', 'pipe', 'pipe'] });
    const said = [];
    run.stdout.on('data', (piece) => said.push(piece));
    run.stderr.on('data', (piece) => said.push(piece));
    run.on('error', (error) => said.push(Buffer.from(`${error.message}\n`)));
    run.on('close', (code) => {
      process.stdout.write(`— ${name}\n`);
      process.stdout.write(Buffer.concat(said));
      resolve(code === null || code < 0 ? 1 : code);
    });
  });
}
