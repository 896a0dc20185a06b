// Runs a script of this project on the pinned Node, after installing what is missing.
// Plain JavaScript on purpose: it must run on whatever Node the machine has, before anything is installed.
import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = dirname(dirname(fileURLToPath(import.meta.url)));
const pinnedNode = join(
  root,
  'node_modules',
  'node',
  'bin',
  process.platform === 'win32' ? 'node.exe' : 'node',
);

/** The packages a lock file lists, by the path of their folder. */
function packagesIn(...path) {
  return JSON.parse(readFileSync(join(root, ...path), 'utf8')).packages;
}

/** Whether all that is wanted lies there in the version wanted: npm itself keeps a list of what it has installed, written last. */
function installed() {
  if (!existsSync(pinnedNode)) return false;
  if (!existsSync(join(root, 'node_modules', '.package-lock.json'))) return false;
  const { '': _, ...wanted } = packagesIn('package-lock.json');
  const there = packagesIn('node_modules', '.package-lock.json');
  return Object.entries(wanted).every(([path, { version, integrity, optional }]) => {
    const found = there[path];
    // What another platform needs is left out.
    if (found === undefined) return optional === true;
    return found.version === version && found.integrity === integrity;
  });
}

if (!installed()) {
  // An installation empties `node_modules` first, under the feet of whatever runs from it: tests say that they do.
  if (process.env.LINEKEEPER_INSTALL === 'never') {
    process.stderr.write(
      'What is installed is not what package-lock.json lists, and nothing is installed while LINEKEEPER_INSTALL is "never", as it is in tests. Run "npm run check", which installs it, and then the tests again.\n',
    );
    process.exit(1);
  }
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
}

const [script, ...args] = process.argv.slice(2);
const run = spawnSync(pinnedNode, [join(root, script), ...args], { stdio: 'inherit' });
if (run.error) process.stderr.write(`${run.error.message}\n`);
process.exit(run.status ?? 1);
