/** Which packages a user receives: everything the program runs on, by the lock file, and what the builders add to it. */

import { z } from 'zod';

/** The part of a lock file that is read. Source: npm's documentation of `package-lock.json`, version 3. */
const lockSchema = z.object({
  packages: z.record(
    z.string(),
    z.object({
      version: z.string().optional(),
      license: z.string().optional(),
      dev: z.boolean().optional(),
      devOptional: z.boolean().optional(),
    }),
  ),
});

export interface ShippedPackage {
  /** As it is required: `react`, `@codemirror/view`. */
  readonly name: string;
  readonly version: string;
  /** As the package names it, an SPDX expression. */
  readonly licence: string;
  /** Where it lies, from the root of the project: `node_modules/react`. */
  readonly folder: string;
}

/** Needed to build alone, and yet some of it reaches the user: the desktop's engine, and helpers put into the bundles. */
const ALSO_SHIPPED: ReadonlySet<string> = new Set(['electron', 'rolldown', 'vite']);

const MODULES = 'node_modules/';

/** The shipped packages of a lock file, by name. Throws when it is not one, or a package lacks version or licence. */
export function shippedPackages(lockText: string): readonly ShippedPackage[] {
  const { packages } = lockSchema.parse(JSON.parse(lockText));
  return Object.entries(packages)
    .flatMap(([folder, { version, license, dev, devOptional }]) => {
      const name = packageName(folder);
      const isForBuilding = dev === true || devOptional === true;
      if (name === null || (isForBuilding && !ALSO_SHIPPED.has(name))) return [];
      if (version === undefined || license === undefined) {
        throw new Error(`${folder} names no version or no licence in the lock file.`);
      }
      return [{ name, version, licence: license, folder }];
    })
    .sort((a, b) => (a.name < b.name ? -1 : 1));
}

/** The package that a path lies in, or null for the project's own files. */
export function packageName(path: string): string | null {
  const slashed = path.replaceAll('\\', '/');
  const at = slashed.lastIndexOf(MODULES);
  if (at < 0) return null;
  const [first = '', second = ''] = slashed.slice(at + MODULES.length).split('/');
  return first.startsWith('@') ? `${first}/${second}` : first;
}
