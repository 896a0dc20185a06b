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
    const aptGet = (...words) =>
      spawnSync('apt-get', words, { stdio: ['ignore', 2, 2], env }).status === 0;
    aptGet('update', '-qq');
    // The second is the same without windows, which tests of pages run on where it is to be had.
    aptGet('install', '-y', '-qq', 'chromium', 'chromium-headless-shell') ||
      aptGet('install', '-y', '-qq', 'chromium');
  }
  if (isThere()) return;
  process.stderr.write(
    'The end-to-end tests need Chromium: install it (Debian: apt-get install chromium), or name its path in CHROMIUM.\n',
  );
  process.exit(1);
}
