/** A folder laid out as Electron's download is, with a binary that cannot run: enough to pack with. */

import { chmodSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';

/**
 * What fuses are found by in the binary: a sentinel, the version of the wire, its length, a digit for each fuse.
 * Source: Electron's documentation, "Electron Fuses", the part on flipping them by hand.
 */
const FUSES = 'dL7pKGdnNz796PbbjQWNKmHXBZaB9tsX\x01\x09101100010';

/** Lays the stand-in down in a folder. */
export function layStandInElectron(folder: string): void {
  mkdirSync(join(folder, 'resources'), { recursive: true });
  writeFileSync(join(folder, 'electron'), `no program; its fuses: ${FUSES}\n`, 'latin1');
  chmodSync(join(folder, 'electron'), 0o755);
  writeFileSync(join(folder, 'LICENSE'), 'Electron’s licence would be here');
  writeFileSync(join(folder, 'LICENSES.chromium.html'), 'Chromium’s licences would be here');
}
