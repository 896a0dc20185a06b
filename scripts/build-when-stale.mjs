// Builds the renderer, and the two hosts, each when anything it is made of is newer than what was built.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

const root = join(import.meta.dirname, '..');
const page = join(root, 'out', 'renderer', 'index.html');
const hosts = join(root, 'out', 'main', 'electron.cjs');
const PAGE_SOURCES = [
  'src/core',
  'src/renderer',
  'shared/bridge',
  'shared/schema.ts',
  'scripts/licences',
  'vite.config.ts',
  'package-lock.json',
];

function newestMs(path) {
  const stat = statSync(path);
  if (!stat.isDirectory()) return stat.mtimeMs;
  return readdirSync(path).reduce(
    (newest, name) => Math.max(newest, newestMs(join(path, name))),
    0,
  );
}

const HOST_SOURCES = [
  'src/core',
  'src/main',
  'shared/bridge',
  'shared/schema.ts',
  'scripts/licences',
  'electron.vite.config.ts',
  'package-lock.json',
];

function isFresh(built, sources) {
  const sourcesMs = Math.max(...sources.map((source) => newestMs(join(root, source))));
  return existsSync(built) && statSync(built).mtimeMs > sourcesMs;
}

function build(words) {
  process.stderr.write('Building …\n');
  const [tool, ...args] = words;
  const run = spawnSync(process.execPath, [join(root, 'node_modules', ...tool), ...args], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    // Whoever starts the build, what is built is the product.
    env: { ...process.env, NODE_ENV: 'production' },
  });
  if (run.status !== 0) {
    process.stderr.write('The build failed; see the lines above.\n');
    process.exit(1);
  }
}

export function buildWhenStale() {
  if (!isFresh(page, PAGE_SOURCES))
    build([['vite', 'bin', 'vite.js'], 'build', '--logLevel', 'warn']);
  if (!isFresh(hosts, HOST_SOURCES)) {
    build([['electron-vite', 'bin', 'electron-vite.js'], 'build', '--logLevel', 'error']);
  }
}
