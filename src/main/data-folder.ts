/** Where the player's library lies. */

import { homedir } from 'node:os';
import { join } from 'node:path';

/**
 * The folder of the library: `LINEKEEPER_DATA` when set, else the system's place for a user's data. Sources: XDG Base
 * Directory Specification; for macOS and Windows common practice, no source.
 */
export function dataFolder(
  env: Readonly<Record<string, string | undefined>>,
  platform: NodeJS.Platform,
): string {
  if (env['LINEKEEPER_DATA']) return env['LINEKEEPER_DATA'];
  if (platform === 'win32' && env['APPDATA']) return join(env['APPDATA'], 'Linekeeper');
  if (platform === 'darwin') return join(homedir(), 'Library', 'Application Support', 'Linekeeper');
  return join(env['XDG_DATA_HOME'] || join(homedir(), '.local', 'share'), 'linekeeper');
}
