/**
 * What a user installs, packed by the real packager. Electron's binary is stood in for, so the window is not opened: the
 * browser host that is packed as well shows that what was packed is whole.
 */

import { spawn, spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { isBuiltin } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { extractAll, listPackage } from '@electron/asar';
import { FuseV1Options, getCurrentFuseWire } from '@electron/fuses';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import configuration from '../../electron-builder.ts';
import { buildWhenStale } from '../../scripts/build-when-stale.mjs';
import { OPENED_ENDINGS } from '../../src/main/desktop/opened-files.ts';
import { browserBridge } from '../../src/renderer/bridge/browser-bridge.ts';
import { chartHere, gradeHere, lineHere } from '../helpers/command-here.ts';
import { dialHost, openAddress } from '../helpers/dial-host.ts';
import { layStandInElectron } from '../helpers/stand-in-electron.ts';
import { root } from './the-program.ts';

const folder = mkdtempSync(join(tmpdir(), 'package-'));
const unpacked = join(folder, 'linux-unpacked');
const program = join(folder, 'program');

/** Runs the packager; what it said, and whether it went well. */
function pack(...words: readonly string[]): { readonly isDone: boolean; readonly said: string } {
  const run = spawnSync(
    process.execPath,
    [
      join(root, 'node_modules', 'electron-builder', 'cli.js'),
      ...['--linux', 'dir', '--publish', 'never'],
      `-c.electronDist=${join(folder, 'electron')}`,
      `-c.directories.output=${folder}`,
      ...words,
    ],
    { cwd: root, encoding: 'utf8' },
  );
  return { isDone: run.status === 0, said: run.stdout + run.stderr };
}

/** All files under a folder of the project, by their path in it. */
function filesUnder(path: string): readonly string[] {
  return readdirSync(join(root, path), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name).slice(root.length + 1));
}

/** The licences lie beside the program; the commands are for whoever has Node. */
function isPacked(built: string): boolean {
  return !/^out\/(renderer\/licences\.txt|main\/(grade|chart|line)\.cjs)$/.test(built);
}

beforeAll(() => {
  buildWhenStale();
  layStandInElectron(join(folder, 'electron'));
  const { isDone, said } = pack();
  if (!isDone) throw new Error(said);
  extractAll(join(unpacked, 'resources', 'app.asar'), program);
});

afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe('the package', () => {
  test('holds the built program, the charts and the demo takes, and nothing else', () => {
    const packed = readdirSync(program, { recursive: true, withFileTypes: true })
      .filter((entry) => entry.isFile())
      .map((entry) => join(entry.parentPath, entry.name).slice(program.length + 1));
    const expected = [
      'package.json',
      ...['out/main', 'out/preload', 'out/renderer'].flatMap(filesUnder).filter(isPacked),
      ...filesUnder('shared/charts'),
      ...filesUnder('shared/demo-takes'),
    ];
    expect(packed.sort()).toEqual(expected.sort());
    expect(listPackage(join(unpacked, 'resources', 'app.asar'), { isPack: false })).toContain(
      '/out/main/electron.cjs',
    );
  });

  test('has the licences beside the program: ours, Electron’s, Chromium’s', () => {
    expect(readFileSync(join(unpacked, 'LICENSES.linekeeper.txt'), 'utf8')).toBe(
      readFileSync(join(root, 'out', 'renderer', 'licences.txt'), 'utf8'),
    );
    expect(readdirSync(unpacked)).toEqual(
      expect.arrayContaining(['LICENSE.electron.txt', 'LICENSES.chromium.html', 'linekeeper']),
    );
  });

  test('starts at its main file, which needs nothing that is not packed', () => {
    const manifest = JSON.parse(readFileSync(join(program, 'package.json'), 'utf8'));
    expect(manifest.main).toBe('out/main/electron.cjs');
    for (const name of ['out/main', 'out/preload'].flatMap(filesUnder).filter(isPacked)) {
      const code = readFileSync(join(program, name), 'utf8');
      // Words alone: `"archive.import": …` is no import.
      const needed = [...code.matchAll(/(?<![\w.])(?:from|import|require\()\s*["']([^"'\n]+)["']/g)]
        .map(([, needs = '']) => needs)
        .filter((needs) => !needs.startsWith('.') && !isBuiltin(needs) && needs !== 'electron');
      expect([name, needed]).toEqual([name, []]);
    }
  });

  test('has its fuses set: no Node for others, no options from outside, only what was packed', async () => {
    const wire = await getCurrentFuseWire(join(unpacked, 'linekeeper'));
    const states = [
      [FuseV1Options.RunAsNode, '0'],
      [FuseV1Options.EnableCookieEncryption, '1'],
      [FuseV1Options.EnableNodeOptionsEnvironmentVariable, '0'],
      [FuseV1Options.EnableNodeCliInspectArguments, '0'],
      [FuseV1Options.EnableEmbeddedAsarIntegrityValidation, '1'],
      [FuseV1Options.OnlyLoadAppFromAsar, '1'],
      [FuseV1Options.GrantFileProtocolExtraPrivileges, '0'],
    ] as const;
    for (const [fuse, state] of states) {
      expect([fuse, String.fromCharCode(wire[fuse] ?? 0)]).toEqual([fuse, state]);
    }
  });

  test('runs from another folder: the host answers with the page, its parts and the charts', async () => {
    const child = spawn(
      process.execPath,
      [join(program, 'out', 'main', 'serve.cjs'), '--no-open'],
      {
        cwd: folder,
        env: { LINEKEEPER_DATA: join(folder, 'data') },
      },
    );
    try {
      const url = await new Promise<string>((resolve, reject) => {
        child.stdout.on('data', (data: Buffer) => {
          const address = /http:\/\/\S+/.exec(data.toString())?.[0];
          if (address !== undefined) resolve(address);
        });
        child.stderr.on('data', (data: Buffer) => reject(new Error(data.toString())));
      });
      const opened = await openAddress(url);
      const headers = { cookie: opened.cookie };
      const page = await (await fetch(new URL('/', url), { headers })).text();
      expect(page).toContain('<title>Linekeeper</title>');
      const parts = [...page.matchAll(/(?:src|href)="\.(\/[^"]+)"/g)].map(([, path = '']) => path);
      expect(parts.length).toBeGreaterThan(1);
      for (const part of parts) {
        expect([part, (await fetch(new URL(part, url), { headers })).status]).toEqual([part, 200]);
      }
      const charts = await browserBridge(dialHost(opened)).ask('charts.list', {});
      const titles = charts.ok ? charts.value.map(({ title }) => title) : [];
      expect(titles).toContain('Lantern Walk');
    } finally {
      child.kill('SIGTERM');
    }
  });
});

test('every file that opens the program is one the program opens', () => {
  const associations = [configuration, configuration.mac].flatMap((part) =>
    [part?.fileAssociations ?? []].flat().flatMap(({ ext }) => [ext].flat()),
  );
  // Files of other programs end with `.chart` too: it is opened when asked for, not claimed.
  expect([...associations, 'chart'].sort()).toEqual([...OPENED_ENDINGS].sort());
});

test('an option that the packager does not know is refused', () => {
  const { isDone, said } = pack('-c.fuses=none');
  expect(isDone).toBe(false);
  expect(said).toContain("unknown property 'fuses'");
});

const CHART = join(root, 'shared', 'charts', 'boiler-room-blues.chart');
const TAKE = join(root, 'shared', 'demo-takes', 'late-at-seven.mid');

describe('the built commands print what they print from their sources, and end with their code', () => {
  test.each([
    ['grade', [TAKE, '--chart', CHART, '--json'], gradeHere, 0],
    ['grade', ['nowhere.mid', '--chart', CHART], gradeHere, 3],
    ['chart', [CHART, '--json'], chartHere, 0],
    ['line', [CHART, '--level', 'thirds', '--bars', '1-4'], lineHere, 0],
    ['line', [CHART, '--level', 'walks'], lineHere, 2],
  ] as const)('%s %j', (name, words, here, code) => {
    const built = spawnSync(
      process.execPath,
      [join(root, 'out', 'main', `${name}.cjs`), ...words],
      {
        encoding: 'utf8',
        env: { ...process.env, NO_COLOR: '1' },
      },
    );
    expect({ code: built.status, out: built.stdout, err: built.stderr }).toEqual(here(...words));
    expect(built.status).toBe(code);
  });
});
