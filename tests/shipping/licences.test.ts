/** Every part a user receives comes with its licence, of a kind we may ship; the build stops where one does not. */

import { cpSync, mkdirSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { build } from 'vite';
import { expect, test } from 'vitest';
import { collectLicences, licencesText } from '../../scripts/licences/collect-licences.ts';
import { guardLicences } from '../../scripts/licences/plugins.ts';
import { packageName, shippedPackages } from '../../scripts/licences/shipped-packages.ts';

const root = join(import.meta.dirname, '..', '..');
const NOTICE = `Invented licence of a test. ${'All that is asked is that this notice stays. '.repeat(10)}`;

interface Invented {
  readonly licence: string;
  readonly text: string | null;
  readonly dev?: boolean;
}

/** A project with one package, its lock file and its own licence. */
function projectWith({ licence, text, dev = false }: Invented): string {
  const folder = mkdtempSync(join(tmpdir(), 'licences-'));
  const inside = join(folder, 'node_modules', 'rope');
  mkdirSync(inside, { recursive: true });
  cpSync(join(root, 'LICENSE'), join(folder, 'LICENSE'));
  writeFileSync(join(folder, 'package.json'), '{"version":"1.0.0"}');
  const entry = { version: '2.0.0', license: licence, ...(dev ? { dev } : {}) };
  const lock = { packages: { '': {}, 'node_modules/rope': entry } };
  writeFileSync(join(folder, 'package-lock.json'), JSON.stringify(lock));
  writeFileSync(join(inside, 'package.json'), '{"name":"rope","main":"rope.js","type":"module"}');
  writeFileSync(join(inside, 'rope.js'), 'export const rope = 1;');
  writeFileSync(join(folder, 'main.js'), "import { rope } from 'rope'; console.log(rope);");
  if (text !== null) writeFileSync(join(inside, 'LICENSE.md'), text);
  return folder;
}

test('what the program runs on is told with its licence: dependencies, theirs, and the fonts', () => {
  const manifest = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8'));
  const names = collectLicences(root).map(({ name }) => name);
  expect(names).toEqual(expect.arrayContaining(Object.keys(manifest.dependencies)));
  expect(names).toEqual(
    expect.arrayContaining(['Linekeeper', 'electron', 'scheduler', 'xmlchars']),
  );
  expect(names).not.toContain('typescript');
  const font = collectLicences(root).find(({ name }) => name === '@vexflow-fonts/bravura');
  expect(font?.licence).toBe('OFL-1.1');
  expect(font?.text).toContain('SIL OPEN FONT LICENSE');
  // What is changed bears another name, and keeps the licence.
  const signs = collectLicences(root).find(({ name }) => name === 'Linekeeper Signs');
  expect(signs?.licence).toBe('OFL-1.1');
  expect(signs?.text).toContain('A cut of Bravura');
  expect(signs?.text).toContain('SIL OPEN FONT LICENSE');
});

test('every text names a holder of rights and what is allowed', () => {
  for (const { name, text } of collectLicences(root)) {
    expect([name, text]).toEqual([name, expect.stringMatching(/copyright/i)]);
    expect([name, text]).toEqual([name, expect.stringMatching(/permi|licen[sc]e/i)]);
  }
});

test('the file beside the program has every name, version and text', () => {
  const licences = collectLicences(root);
  const text = licencesText(licences);
  for (const licence of licences) {
    expect(text).toContain(`${licence.name} ${licence.version} (${licence.licence})`);
    expect(text).toContain(licence.text);
  }
});

test('a licence of another kind is refused with its name', () => {
  const folder = projectWith({ licence: 'GPL-3.0-only', text: NOTICE });
  expect(() => collectLicences(folder)).toThrow(/^rope is under GPL-3\.0-only, which/);
});

test.each([null, 'MIT'])('a package without a text is refused with its remedy (%s)', (text) => {
  const folder = projectWith({ licence: 'MIT', text });
  expect(() => collectLicences(folder)).toThrow(/^rope comes without .*texts\/rope\.txt\.$/);
});

test('a text kept for a package that has none is taken', () => {
  const folder = projectWith({ licence: 'MIT', text: null });
  mkdirSync(join(folder, 'scripts', 'licences', 'texts'), { recursive: true });
  writeFileSync(join(folder, 'scripts', 'licences', 'texts', 'rope.txt'), NOTICE);
  expect(collectLicences(folder).map(({ name }) => name)).toEqual(['Linekeeper', 'rope']);
});

test('a lock file whose package names no licence is refused', () => {
  const lock = { packages: { 'node_modules/rope': { version: '1.0.0' } } };
  expect(() => shippedPackages(JSON.stringify(lock))).toThrow('node_modules/rope names no');
});

test.each([
  ['/a/node_modules/react/index.js', 'react'],
  ['\0/a/node_modules/@codemirror/view/dist/index.js?commonjs', '@codemirror/view'],
  ['C:\\a\\node_modules\\b\\node_modules\\@c\\d\\e.js', '@c/d'],
  ['/a/src/main/serve.ts', null],
])('%s lies in %s', (path, name) => {
  expect(packageName(path)).toBe(name);
});

test.each([
  [false, 'resolves'],
  [true, 'rejects'],
] as const)('a build that bundles a package (for building alone: %s) %s', async (dev, ends) => {
  const folder = projectWith({ licence: 'MIT', text: NOTICE, dev });
  const built = build({
    root: folder,
    configFile: false,
    logLevel: 'silent',
    plugins: [guardLicences(folder)],
    build: { write: false, lib: { entry: join(folder, 'main.js'), formats: ['es'] } },
  });
  if (ends === 'resolves') await built;
  else await expect(built).rejects.toThrow(/rope is bundled, but is no dependency/);
});
