/** Opens the program on a folder as another user may, stores a note, and prints what it was told. */

import { writeSync } from 'node:fs';
import { join } from 'node:path';
import { openProgram } from '../../src/main/open-program.ts';
import { refusalOf } from '../../src/main/store/index.ts';
import { setUpFor } from '../helpers/set-up.ts';

const [dataFolder = '', user] = process.argv.slice(2);
if (user !== undefined) process.setuid?.(Number(user));

async function open(): Promise<unknown> {
  try {
    const sharedFolder = join(import.meta.dirname, '..', '..', 'shared');
    const settings = { dataFolder, sharedFolder, version: '1.2.3', push: () => {} };
    const program = openProgram({ ...settings, host: 'browser' });
    const request = { setUp: setUpFor(), sources: [] };
    const begun = await program?.services('takes.begin', request, 'page');
    await program?.close();
    return begun;
  } catch (error) {
    return { ok: false, refusal: refusalOf(error) };
  }
}

writeSync(1, JSON.stringify(await open()));
