// The end-to-end tests drive a real Chromium: Debian's, or the one that CHROMIUM names.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

function isThere() {
  return existsSync(process.env.CHROMIUM ?? '/usr/bin/chromium');
}

export function ensureChromium() {
  if (isThere()) return;
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    process.stderr.write('Installing Chromium (apt-get) …\n');
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    for (const args of [
      ['update', '-qq'],
      ['install', '-y', '-qq', 'chromium'],
    ]) {
      spawnSync('apt-get', args, { stdio: ['ignore', 2, 2], env });
    }
  }
  if (isThere()) return;
  process.stderr.write(
    'The end-to-end tests need Chromium: install it (Debian: apt-get install chromium), or name its path in CHROMIUM.\n',
  );
  process.exit(1);
}
