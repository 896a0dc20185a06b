// Named steps of a larger command; one that fails ends the whole with its exit code. Whatever a step leaves running when it ends,
// or when its time is up, is ended too: else the whole would wait for it for ever.
import { spawn } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const binOf = (bin) => join(root, 'node_modules', '.bin', bin);

/** No step takes so long, on a machine with much other work neither. */
const LONGEST_MS = 40 * 60_000;
/** What was said last comes after the end; what is still running keeps the line open. */
const LAST_WORDS_MS = 1000;

/** Runs a step whose lines are seen as they come. */
export async function step(...one) {
  const [said, code] = await run(...one, 'inherit');
  process.stdout.write(said);
  endAfterFailure(code);
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

/** The steps under way, each the head of a group of processes. */
const running = new Set();
for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) {
  process.on(signal, () => {
    for (const step of running) endGroup(step);
    process.exit(1);
  });
}

function endGroup({ pid }) {
  try {
    process.kill(-pid, 'SIGKILL');
  } catch {
    // None of them is left.
  }
}

/** What is left to be said of a step, which says the most itself where it inherits the output; and its exit code. */
function run(name, bin, args, output) {
  return new Promise((resolve) => {
    const step = spawn(binOf(bin), args, {
      cwd: root,
      stdio: ['ignore', output, output],
      detached: true,
    });
    const title = `— ${name}\n`;
    if (output === 'inherit') process.stdout.write(title);
    const said = output === 'inherit' ? [] : [Buffer.from(title)];
    const say = (words) => said.push(Buffer.from(words));
    step.stdout?.on('data', (piece) => said.push(piece));
    step.stderr?.on('data', (piece) => said.push(piece));
    step.on('error', (error) => {
      say(`${error.message}\n`);
      resolve([Buffer.concat(said), 1]);
    });
    if (step.pid === undefined) return;
    running.add(step);
    const limit = setTimeout(() => {
      say(`${name}: not over after ${LONGEST_MS / 60_000} minutes, and ended.\n`);
      endGroup(step);
    }, LONGEST_MS);
    const closed = new Promise((close) => step.on('close', close));
    step.on('exit', async (code) => {
      clearTimeout(limit);
      await Promise.race([closed, new Promise((over) => setTimeout(over, LAST_WORDS_MS).unref())]);
      endGroup(step);
      running.delete(step);
      await closed;
      resolve([Buffer.concat(said), code ?? 1]);
    });
  });
}
