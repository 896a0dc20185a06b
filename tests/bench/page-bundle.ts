/** A module of ours as one script, for a page that has nothing else. */

import { join } from 'node:path';
import { build } from 'vite';

/** The code of a file beside this one; what it exports is a global of that name. */
export async function pageBundle(file: string, name: string): Promise<string> {
  const entry = join(import.meta.dirname, file);
  const built = await build({
    configFile: false,
    logLevel: 'error',
    build: { write: false, lib: { entry, formats: ['iife'], name } },
  });
  const [bundle] = Array.isArray(built) ? built : [built];
  return bundle !== undefined && 'output' in bundle ? bundle.output[0].code : '';
}
