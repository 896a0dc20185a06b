/** The desktop host's entry: Electron itself, the folders, and nothing else. */

import { join } from 'node:path';
import * as electron from 'electron';
import manifest from '../../package.json' with { type: 'json' };
import { dataFolder } from './data-folder.ts';
import { startDesktop } from './desktop/desktop.ts';

// This file is built into out/main.
const root = join(import.meta.dirname, '..', '..');

startDesktop(electron, {
  dataFolder: dataFolder(process.env, process.platform),
  sharedFolder: join(root, 'shared'),
  rendererFolder: join(root, 'out', 'renderer'),
  preloadFile: join(root, 'out', 'preload', 'preload.cjs'),
  version: manifest.version,
  platform: process.platform,
  argv: process.argv,
  workingFolder: process.cwd(),
});
