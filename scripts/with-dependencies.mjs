// Runs a script of this project on the pinned Node, after installing what is missing.
// Plain JavaScript on purpose: it must run on whatever Node the machine has, before anything is installed.
import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const stamp = join(root, 'node_modules', '.installed-from');
const pinnedNode = join(
  root,
  'node_modules',
  'node',
  'bin',
  process.platform === 'win32' ? 'node.exe' : 'node',
);

function lockDigest() {
  return createHash('sha256')
    .update(readFileSync(join(root, 'package-lock.json')))
    .digest('hex');
}

function installed() {
  return (
    existsSync(pinnedNode) && existsSync(stamp) && readFileSync(stamp, 'utf8') === lockDigest()
  );
}

if (!installed()) {
  process.stderr.write('Installing what is missing (npm ci) …\n');
  const npm = process.env.npm_execpath;
  const [command, args] = npm ? [process.execPath, [npm]] : ['npm', []];
  const install = spawnSync(
    command,
    [...args, 'ci', '--no-fund', '--no-audit', '--loglevel=error'],
    {
      cwd: root,
      // What the installer says goes to standard error, so that a report on standard output stays clean.
      stdio: ['ignore', 2, 2],
      shell: !npm && process.platform === 'win32',
    },
  );
  if (install.status !== 0 || !existsSync(pinnedNode)) {
    process.stderr.write(
      'The installation failed; see the lines above. Check the connection to the npm registry and run the same command again.\n',
    );
    process.exit(1);
  }
  writeFileSync(stamp, lockDigest());
}

const [script, ...args] = process.argv.slice(2);
const run = spawnSync(pinnedNode, [join(root, script), ...args], { stdio: 'inherit' });
if (run.error) process.stderr.write(`${run.error.message}\n`);
process.exit(run.status ?? 1);
