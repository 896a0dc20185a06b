// One named step of a larger command; the first that fails ends the whole with its exit code.
import { spawnSync } from 'node:child_process';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));

export function step(name, bin, args) {
  process.stdout.write(`— ${name}\n`);
  const run = spawnSync(join(root, 'node_modules', '.bin', bin), args, {
    cwd: root,
    stdio: 'inherit',
  });
  if (run.status !== 0) process.exit(run.status ?? 1);
}
