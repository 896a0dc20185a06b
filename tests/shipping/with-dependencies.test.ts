/** The door of every command: what is missing is installed first, and never under tests that run from `node_modules`. */

import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test } from 'vitest';

interface Entry {
  readonly version: string;
  readonly integrity: string;
  readonly optional?: boolean;
  readonly dev?: boolean;
}

const OAR: Entry = { version: '1.0.0', integrity: 'sha512-oar' };
const MAST: Entry = { version: '2.0.0', integrity: 'sha512-mast' };
const WANTED = { '': { name: 'boat' }, 'node_modules/oar': OAR, 'node_modules/mast': MAST };

const root = join(import.meta.dirname, '..', '..');
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'with-dependencies-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Asks for a script of a project of ours, where npm is a stand-in that notes what it was asked for. */
function ask(
  { wanted, there }: { readonly wanted: object; readonly there: object | null },
  install: 'never' | 'when missing',
) {
  const project = mkdtempSync(join(folder, 'project-'));
  const modules = join(project, 'node_modules');
  const asked = join(project, 'asked');
  for (const made of [join(project, 'scripts'), join(modules, 'node', 'bin')])
    mkdirSync(made, { recursive: true });
  copyFileSync(
    join(root, 'scripts', 'with-dependencies.mjs'),
    join(project, 'scripts', 'with-dependencies.mjs'),
  );
  symlinkSync(process.execPath, join(modules, 'node', 'bin', 'node'));
  writeFileSync(join(project, 'package-lock.json'), JSON.stringify({ packages: wanted }));
  if (there !== null)
    writeFileSync(join(modules, '.package-lock.json'), JSON.stringify({ packages: there }));
  writeFileSync(join(project, 'hello.mjs'), 'process.stdout.write("hello " + process.argv[2]);');
  writeFileSync(
    join(project, 'npm.cjs'),
    `require('node:fs').writeFileSync(${JSON.stringify(asked)}, process.argv[2]);`,
  );
  const { LINEKEEPER_INSTALL: _, ...env } = process.env;
  const { status, stdout, stderr } = spawnSync(
    process.execPath,
    [join(project, 'scripts', 'with-dependencies.mjs'), 'hello.mjs', 'sailor'],
    {
      encoding: 'utf8',
      env: {
        ...env,
        npm_execpath: join(project, 'npm.cjs'),
        ...(install === 'never' && { LINEKEEPER_INSTALL: install }),
      },
    },
  );
  return { status, stdout, stderr, npm: existsSync(asked) ? readFileSync(asked, 'utf8') : null };
}

const { 'node_modules/mast': _, ...WITHOUT_MAST } = WANTED;
const MISSING: readonly (readonly [string, object | null])[] = [
  ['nothing is listed as installed', null],
  ['a package is not there', WITHOUT_MAST],
  ['a package is there in another version', { ...WANTED, 'node_modules/mast': OAR }],
];

test.each(MISSING)('where %s, it is installed, and then the script runs', (_, there) => {
  const { status, stdout, npm } = ask({ wanted: WANTED, there }, 'when missing');
  expect({ status, stdout, npm }).toEqual({ status: 0, stdout: 'hello sailor', npm: 'ci' });
});

test.each(MISSING)('where %s, tests are refused it, with the remedy', (_, there) => {
  const { status, stdout, stderr, npm } = ask({ wanted: WANTED, there }, 'never');
  expect({ status, stdout, npm }).toEqual({ status: 1, stdout: '', npm: null });
  expect(stderr).toContain('npm run check');
});

test.each<readonly [string, object]>([
  ['all is there', WANTED],
  ['a package of another platform is not', { ...WANTED, 'node_modules/sail': { optional: true } }],
  [
    'a package is wanted for more than it was',
    { ...WANTED, 'node_modules/oar': { ...OAR, dev: true } },
  ],
])('where %s, nothing is installed', (_, wanted) => {
  expect(ask({ wanted, there: WANTED }, 'when missing')).toEqual({
    ...{ status: 0, stdout: 'hello sailor', stderr: '', npm: null },
  });
});

test('a test may not install', () => {
  expect(process.env['LINEKEEPER_INSTALL']).toBe('never');
});
