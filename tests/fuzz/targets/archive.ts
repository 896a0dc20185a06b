/** Archives of a library: what is imported is there whole and can be read and exported; what is refused left nothing. */

import { createHash } from 'node:crypto';
import { readdirSync } from 'node:fs';
import { deflateRawSync } from 'node:zlib';
import { refusalSchema } from '../../../shared/bridge/index.ts';
import { tellRefusal } from '../../../shared/refusal-words.ts';
import { sendArchive } from '../../../src/renderer/library/archive-transfer.ts';
import { type Choices, HOSTILE_NUMBERS, HOSTILE_TEXTS } from '../chance.ts';
import { CHART_TEXTS } from '../corpus.ts';
import { importedWhole, keptLibrary, rowsOf } from '../kept-library.ts';
import { type LibraryFiles, libraryFiles, manifestOf, takeOf } from '../library-files.ts';
import { LARGEST_INPUT, mutateBytes, mutateJson, mutateText, nested } from '../mutate.ts';
import { type FuzzTarget, must, type Verdict } from '../target.ts';
import { makeZip, type ZipEnd, type ZipEntry } from '../zip-maker.ts';

export const archiveTarget: FuzzTarget = {
  name: 'archives of a library',
  share: 25,
  make(choices) {
    const files = libraryFiles(choices);
    if (choices.oneIn(2)) spoilContents(choices, files);
    const entries = toEntries(choices, files);
    const kind = choices.below(8);
    const spoilt = kind === 0 ? spoilEntries(choices, entries) : entries;
    const zip = makeZip(spoilt, kind === 1 ? spoiltEnd(choices) : {});
    const bytes = kind === 2 ? mutateBytes(choices, zip, [zip]) : zip;
    // An entry may unfold to two hundred times its size, and then it is that which has to be read.
    const unfolded = spoilt
      .filter(
        ({ bytes: { length }, folded }) => length < MIB || length < 200 * (folded?.length ?? 0),
      )
      .reduce((sum, entry) => sum + entry.bytes.length, 0);
    const isLookedInto = choices.oneIn(12);
    return {
      size: Math.max(bytes.length, unfolded),
      run: () => check(bytes, isLookedInto),
    };
  },
};

const MIB = 2 ** 20;
const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

/** What unfolds to far more than it is, each with what it unfolds to. */
const FOLDED = [
  new Uint8Array(64 * MIB),
  new Uint8Array(2 * MIB).fill(0x20),
  encode(`${' '.repeat(MIB - 2)}[]`),
  encode(JSON.stringify({ ...takeOf('long'), events: Array(6000).fill(takeOf('').events[0]) })),
  encode(`{"player":${'['.repeat(400_000)}${']'.repeat(400_000)}}`),
  encode(`{"player":"${'a'.repeat(900_000)}"}`),
].map((bytes) => ({ bytes, folded: deflateRawSync(bytes, { level: 9 }) }));

const NAMES = [
  ...['manifest.json', 'charts.json', 'settings.json', 'takes/take-0.json', 'charts/chart-0.chart'],
  ...['../escape.json', '/etc/escape.json', 'charts/../../x.chart', 'takes\\x.json', 'C:/x', ''],
  ...['takes/', 'takes//x.json', 'takes/x/y.json', 'TAKES/x.json', 'MANIFEST.JSON', 'notes.txt'],
  ...[
    '__proto__',
    'takes/\0.json',
    `takes/${'y'.repeat(9000)}.json`,
    'charts/\u202e.chart',
    'n'.repeat(9000),
  ],
];

/** Changes what is in one file or a few, as far as data: what is written is a file as its name says. */
function spoilContents(choices: Choices, files: LibraryFiles): void {
  const paths = [...files.keys()];
  for (let change = choices.below(3); change >= 0; change--) {
    const path = choices.pick(paths);
    const good = files.get(path);
    if (choices.oneIn(12)) files.delete(path);
    else if (typeof good === 'string')
      files.set(path, mutateText(choices, good, CHART_TEXTS, HOSTILE_TEXTS));
    else if (choices.oneIn(3)) files.set(path, withEdge(choices, good));
    else if (choices.oneIn(25)) files.set(path, { player: nested(choices, choices.below(3000)) });
    else files.set(path, mutateJson(choices, good, choices.pick([8, 30])));
  }
}

/** One number or text of plain data at an edge, all else as it was: most of what a schema forgets is a number. */
function withEdge(choices: Choices, value: unknown): unknown {
  const json = JSON.stringify(value) ?? 'null';
  const places = [...json.matchAll(/(?<=:)-?\d[\d.]*(?:e[+-]?\d+)?|(?<=:)"[^"]*"/gu)];
  if (places.length === 0) return value;
  const place = choices.pick(places);
  const edge = place[0].startsWith('"')
    ? choices.pick(HOSTILE_TEXTS)
    : choices.pick([...HOSTILE_NUMBERS, 1e12, 9e15, -1e13]);
  const after = json.slice(place.index + place[0].length);
  return JSON.parse(json.slice(0, place.index) + JSON.stringify(edge) + after);
}

/** The files as entries under a manifest whose sums are right, mostly. */
function toEntries(choices: Choices, files: LibraryFiles): readonly ZipEntry[] {
  const written = [...files].map(([path, content]): ZipEntry => {
    const bytes = encode(typeof content === 'string' ? content : (JSON.stringify(content) ?? ''));
    return { name: path, bytes, method: choices.oneIn(8) ? 8 : 0 };
  });
  const sums = choices.oneIn(3) ? [] : written;
  const sha256 = Object.fromEntries(
    sums.map(({ name, bytes }) => [name, createHash('sha256').update(bytes).digest('hex')]),
  );
  const good = { ...manifestOf(files), sha256 };
  const manifest = choices.oneIn(8) ? spoiltManifest(choices, good) : good;
  const entry = { name: 'manifest.json', bytes: encode(JSON.stringify(manifest) ?? '') };
  return choices.oneIn(2) ? [entry, ...written] : [...written, entry];
}

function spoiltManifest(choices: Choices, good: ReturnType<typeof manifestOf>): unknown {
  switch (choices.below(4)) {
    case 0:
      return {
        ...good,
        schema: choices.pick(['linekeeper.archive/2', 'linekeeper.archive/', '1']),
      };
    case 1:
      return { ...good, future: choices.pick(HOSTILE_TEXTS) };
    case 2:
      return { ...good, sha256: { [choices.pick(NAMES)]: 'a'.repeat(64) } };
    default:
      return mutateJson(choices, good, 6);
  }
}

/** Bytes of an entry that are written as they are, or copied again and again: a busy machine still reads them soon. */
const MOST_WRITTEN = 2_000_000;

/** One or two entries that lie, are in it twice, unfold to very much, or have a name that leads elsewhere. */
function spoilEntries(choices: Choices, entries: readonly ZipEntry[]): readonly ZipEntry[] {
  const out = [...entries];
  for (let change = choices.below(2); change >= 0; change--) {
    const at = choices.below(out.length);
    const entry = out[at];
    if (entry === undefined) continue;
    const number = choices.pick(HOSTILE_NUMBERS);
    const spoilt = choices.pick<() => ZipEntry>([
      () => ({ ...entry, name: choices.pick(NAMES) }),
      () => ({ ...entry, nameThere: choices.pick(NAMES) }),
      () => ({
        ...entry,
        method: choices.pick([0, 8, 9, 99]),
        folded: entry.bytes.subarray(0, MOST_WRITTEN),
      }),
      () => ({ ...entry, flags: choices.pick([1, 8, 0x40, 0x2000, 0xffff]) }),
      () => ({ ...entry, sum: number }),
      () => ({ ...entry, size: number }),
      () => ({ ...entry, packedSize: number }),
      () => ({ ...entry, size: number, packedSize: number }),
      () => ({ ...entry, bytesOf: choices.below(out.length) }),
      () => ({ ...entry, ...choices.pick(FOLDED) }),
      () => ({ ...entry, ...choices.pick(FOLDED), size: entry.bytes.length }),
    ])();
    if (choices.oneIn(3)) out.push(spoilt);
    else out[at] = spoilt;
    // The same bytes under many names, or one name many times.
    if (choices.oneIn(12)) {
      const isOneName = choices.oneIn(2);
      const most = Math.ceil(MOST_WRITTEN / (entry.bytes.length + 1));
      for (let time = Math.min(choices.below(300), most); time >= 0; time--)
        out.push({ ...entry, name: isOneName ? entry.name : `takes/${time}.json`, bytesOf: at });
    }
  }
  return out;
}

function spoiltEnd(choices: Choices): ZipEnd {
  return choices.pick<() => ZipEnd>([
    () => ({ count: choices.below(70_000) }),
    () => ({ listOffset: choices.below(5000) }),
    () => ({ listOffset: choices.pick(HOSTILE_NUMBERS) }),
    () => ({ listSize: choices.pick(HOSTILE_NUMBERS) }),
    () => ({ comment: new Uint8Array(choices.below(LARGEST_INPUT)).fill(0x50) }),
  ])();
}

async function check(bytes: Uint8Array, isLookedInto: boolean): Promise<Verdict> {
  const { library, before, release } = keptLibrary();
  const { bridge, database, transferFolder } = library;
  let isKept = false;
  try {
    const file = new Blob([Uint8Array.from(bytes)]);
    const answer = await sendArchive(bridge, file, 'one', () => {});
    const left = readdirSync(transferFolder);
    must(left.length === 0, `${left.join()} is left of an archive`);
    if (answer.ok) {
      await importedWhole(library, before, answer.value, file, isLookedInto);
      return 'accepted';
    }
    must(refusalSchema.safeParse(answer.refusal).success, 'a refusal without its shape');
    const { code } = answer.refusal;
    const { message, remedy } = tellRefusal(answer.refusal);
    must(code === 'badRequest', `refused as ${code}: ${message}`);
    must(message.startsWith('The archive was not imported: '), `nobody knows what: ${message}`);
    must(message.length < 600, `a refusal is too long to be read: ${message.length}`);
    must(remedy.startsWith('Nothing was changed.'), `nobody knows what is left: ${remedy}`);
    must(rowsOf(database) === before, `a refused archive left something: ${message}`);
    isKept = true;
    return 'refused';
  } finally {
    // A library that nothing was imported into, as was seen, serves the next input too.
    if (!isKept) release();
  }
}
