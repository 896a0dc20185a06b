/** The licences in the build: told to the screens, laid beside the program, and nothing bundled that has none. */

import type { Plugin } from 'vite';
import { collectLicences, licencesText } from './collect-licences.ts';
import { packageName } from './shipped-packages.ts';

/** What the screens import, lazily. */
const MODULE = 'linekeeper:licences';
/** Rollup's convention: no other plugin takes a name that begins so for a file. */
const RESOLVED = `\0${MODULE}`;

export const LICENCES_FILE = 'licences.txt';

/** Stops a build that bundles a package whose licence is not told. `root` is the folder of the project. */
export function guardLicences(root: string): Plugin {
  return {
    name: 'guard-licences',
    apply: 'build',
    generateBundle() {
      const told = new Set(collectLicences(root).map(({ name }) => name));
      for (const id of this.getModuleIds()) {
        const name = packageName(id);
        if (name !== null && !told.has(name)) {
          this.error(
            `${name} is bundled, but is no dependency of the program. Move it from devDependencies to dependencies.`,
          );
        }
      }
    },
  };
}

/** Gives the screens the licences, and puts them into one file. `root` is the folder of the project. */
export function shipLicences(root: string): Plugin {
  return {
    name: 'ship-licences',
    resolveId: (id) => (id === MODULE ? RESOLVED : null),
    load: (id) =>
      id === RESOLVED ? `export default ${JSON.stringify(collectLicences(root))};` : null,
    generateBundle() {
      const source = licencesText(collectLicences(root));
      this.emitFile({ type: 'asset', fileName: LICENCES_FILE, source });
    },
  };
}
