// `npm run mutate -- grading`, or `theory`: mutation testing of the core, told in docs/mutation.md. Names of files after it try
// those alone, and anew: `npm run mutate -- grading judge.ts inside.ts`. Without names, what was tried before and has not
// changed is not tried again.
// Its tool is installed at the first run, beside the tests and not with the program: nobody who only starts or checks
// the program needs it.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { join } from 'node:path';

const root = join(import.meta.dirname, '..');
const folder = join(root, 'tests', 'mutation');
const tool = join(folder, 'node_modules', '@stryker-mutator', 'core', 'bin', 'stryker.js');

function run(command, args, options) {
  const { status } = spawnSync(command, args, { stdio: 'inherit', ...options });
  if (status !== 0) process.exit(status ?? 1);
}

const [part, ...files] = process.argv.slice(2);
if (part !== 'grading' && part !== 'theory') {
  process.stderr.write('Say which part of the core: npm run mutate -- grading, or theory.\n');
  process.exit(2);
}

if (!existsSync(tool)) {
  // The test runner it works with is the program's own, found in the folder above.
  const args = ['ci', '--ignore-scripts', '--legacy-peer-deps', '--no-fund', '--no-audit'];
  const npm = process.env.npm_execpath;
  if (npm) run(process.execPath, [npm, ...args], { cwd: folder });
  else run('npm', args, { cwd: folder, shell: process.platform === 'win32' });
}

const paths = files.map((file) => `src/core/${part}/${file}`);
run(
  process.execPath,
  [
    tool,
    'run',
    join(folder, 'stryker.config.mjs'),
    ...(paths.length === 0 ? [] : ['--mutate', paths.join(','), '--force']),
  ],
  { cwd: root, env: { ...process.env, MUTATED_PART: part } },
);
