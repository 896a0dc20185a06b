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
  endAfterFailure(...(await Promise.all(rows.map(runRow))).flat());
}

/** Runs a step whose lines are seen as they come, beside one whose lines are printed after those. */
export async function stepWithAnother(seen, other) {
  const [[seenSaid, seenCode], [otherSaid, otherCode]] = await Promise.all([
    run(...seen, 'inherit'),
    run(...other, 'pipe'),
  ]);
  process.stdout.write(Buffer.concat([seenSaid, otherSaid]));
  endAfterFailure(seenCode, otherCode);
}

function endAfterFailure(...codes) {
  const failed = codes.find((code) => code !== 0);
  if (failed !== undefined) process.exit(failed);
}

async function runRow(row) {
  const codes = [];
  for (const [name, bin, args] of row) {
    const [said, code] = await run(name, bin, args, 'pipe');
    process.stdout.write(said);
    codes.push(code);
  }
  return codes;
}

/** What is left to be said of a step, which says the most itself where it inherits the output; and its exit code. */
function run(name, bin, args, output) {
  return new Promise((resolve) => {
    const step = spawn(binOf(bin), args, { cwd: root, stdio: ['ignore', output, output] });
    const title = `— ${name}\n`;
    if (output === 'inherit') process.stdout.write(title);
    const said = output === 'inherit' ? [] : [Buffer.from(title)];
    step.stdout?.on('data', (piece) => said.push(piece));
    step.stderr?.on('data', (piece) => said.push(piece));
    step.on('error', (error) => said.push(Buffer.from(`${error.message}\n`)));
    step.on('close', (code) =>
      resolve([Buffer.concat(said), code === null || code < 0 ? 1 : code]),
    );
  });
}
