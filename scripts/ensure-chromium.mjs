// The end-to-end tests drive a real Chromium: Debian's, or the one that CHROMIUM names.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

function isThere() {
  return existsSync(process.env.CHROMIUM ?? '/usr/bin/chromium');
}

// The same without windows, which tests of pages run on where it is to be had: it costs half as much beside its pages.
function isWindowlessThere() {
  return process.env.CHROMIUM !== undefined || existsSync('/usr/bin/chromium-headless-shell');
}

export function ensureChromium() {
  if (isThere() && isWindowlessThere()) return;
  if (process.getuid?.() === 0 && existsSync('/usr/bin/apt-get')) {
    process.stderr.write('Installing Chromium (apt-get) …\n');
    const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
    const aptGet = (...words) =>
      spawnSync('apt-get', words, { stdio: ['ignore', 2, 2], env }).status === 0;
    aptGet('update', '-qq');
    if (!isThere()) aptGet('install', '-y', '-qq', 'chromium');
    if (!aptGet('install', '-y', '-qq', 'chromium-headless-shell')) {
      process.stderr.write('Without chromium-headless-shell the tests of pages take longer.\n');
    }
  }
  if (isThere()) return;
  process.stderr.write(
    'The end-to-end tests need Chromium: install it (Debian: apt-get install chromium), or name its path in CHROMIUM.\n',
  );
  process.exit(1);
}
