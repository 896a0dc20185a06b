// Builds the renderer when anything it is made of is newer than what was built.
import { spawnSync } from 'node:child_process';
import { existsSync, readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';

const root = join(import.meta.dirname, '..');
const built = join(root, 'out', 'renderer', 'index.html');
const SOURCES = [
  'src/core',
  'src/renderer',
  'shared/bridge',
  'shared/schema.ts',
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

export function buildWhenStale() {
  const sourcesMs = Math.max(...SOURCES.map((source) => newestMs(join(root, source))));
  if (existsSync(built) && statSync(built).mtimeMs > sourcesMs) return;
  process.stderr.write('Building …\n');
  const vite = join(root, 'node_modules', 'vite', 'bin', 'vite.js');
  const build = spawnSync(process.execPath, [vite, 'build', '--logLevel', 'warn'], {
    cwd: root,
    stdio: ['ignore', 2, 2],
    // Whoever starts the build, what is built is the product.
    env: { ...process.env, NODE_ENV: 'production' },
  });
  if (build.status !== 0) {
    process.stderr.write('The build failed; see the lines above.\n');
    process.exit(1);
  }
}
