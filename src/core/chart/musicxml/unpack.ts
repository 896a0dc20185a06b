/** The bytes of a `.musicxml` or `.mxl` file as the text of its score. */

import { strFromU8, unzipSync } from 'fflate';
import { failure, type Outcome, success } from '../../problem.ts';
import type { MusicXmlProblem } from './problem.ts';
import { child, childrenOf, readXml } from './xml-tree.ts';

/** The longest orchestral scores are about this long unfolded; own rule. */
export const LARGEST_SCORE_BYTES = 32_000_000;

/** A score archive holds a score, its parts and pictures. Own rule. */
const MOST_ENTRIES = 10_000;

/** Scores fold to a twentieth or so; what unfolds to more than a hundredfold was made to. Own rule. */
const LARGEST_RATIO = 100;
const UNSUSPICIOUS_BYTES = 1_000_000;

/** Source: MusicXML 4.0, "Compressed .mxl files". */
const CONTAINER = 'META-INF/container.xml';

/** Source: ZIP file format specification (APPNOTE), local file header. */
const ZIP_MAGIC = [0x50, 0x4b, 3, 4];

/** Problems: an archive that cannot be opened or holds no score, a file too large, one that is no text. */
export function unpackScore(bytes: Uint8Array): Outcome<string, MusicXmlProblem> {
  if (bytes.length === 0) return failure({ code: 'empty' });
  if (bytes.length > LARGEST_SCORE_BYTES) return failure({ code: 'tooLarge', bytes: bytes.length });
  const isArchive = ZIP_MAGIC.every((byte, index) => bytes[index] === byte);
  return isArchive ? unpackArchive(bytes) : decodeText(bytes);
}

function unpackArchive(bytes: Uint8Array): Outcome<string, MusicXmlProblem> {
  const named = unpackNamed(bytes);
  if (named.ok) return named;
  const [only, ...others] = scoresIn(bytes);
  return only === undefined || others.length > 0 ? named : readEntry(bytes, only);
}

/** The score that the archive's list of contents names. */
function unpackNamed(bytes: Uint8Array): Outcome<string, MusicXmlProblem> {
  const container = readEntry(bytes, CONTAINER);
  if (!container.ok) return container;
  const read = readXml(container.value);
  if (!read.ok) return failure({ code: 'archive', why: 'its list of contents cannot be read' });
  const roots = childrenOf(child(read.value, 'rootfiles'), 'rootfile');
  const score =
    roots.find((root) => /musicxml/u.test(root.attributes['media-type'] ?? 'musicxml')) ?? roots[0];
  const path = score?.attributes['full-path'];
  if (path === undefined) return failure({ code: 'archive', why: 'it names no score' });
  return readEntry(bytes, path);
}

/** Names of entries that are scores by their ending, for archives whose list of contents is bad. */
function scoresIn(bytes: Uint8Array): readonly string[] {
  const names = new Set<string>();
  let listed = 0;
  try {
    unzipSync(bytes, {
      filter: ({ name }) => {
        listed++;
        if (listed > MOST_ENTRIES) throw new Error('its list of contents does not end');
        if (/\.(musicxml|xml)$/iu.test(name) && !name.startsWith('META-INF/')) names.add(name);
        return false;
      },
    });
  } catch {
    return [];
  }
  return [...names];
}

/**
 * One entry, unfolded only when it says it is of a sensible size and is. A list of contents may name one entry again
 * and again, or claim to be endless: the first of a name is read, and a long list ends the reading.
 */
function readEntry(bytes: Uint8Array, path: string): Outcome<string, MusicXmlProblem> {
  let declared: number | null = null;
  let listed = 0;
  try {
    const entries = unzipSync(bytes, {
      filter: ({ name, size, originalSize }) => {
        listed++;
        if (listed > MOST_ENTRIES) throw new Error('its list of contents does not end');
        if (name !== path || declared !== null) return false;
        declared = originalSize;
        if (originalSize > LARGEST_SCORE_BYTES) return false;
        if (originalSize > UNSUSPICIOUS_BYTES && originalSize > size * LARGEST_RATIO) {
          throw new Error('it unfolds to far more than a score does');
        }
        return true;
      },
    });
    const entry = Object.hasOwn(entries, path) ? entries[path] : undefined;
    if (entry !== undefined) return decodeText(entry);
  } catch (error) {
    const why = error instanceof Error ? error.message : 'it is damaged';
    return failure({ code: 'archive', why });
  }
  return declared !== null && declared > LARGEST_SCORE_BYTES
    ? failure({ code: 'tooLarge', bytes: declared })
    : failure({ code: 'archive', why: `it holds no ${path}` });
}

/** UTF-8 unless a byte order mark says UTF-16. Source: XML 1.0, appendix F. */
function decodeText(bytes: Uint8Array): Outcome<string, MusicXmlProblem> {
  const isLittle = bytes[0] === 0xff && bytes[1] === 0xfe;
  const isBig = bytes[0] === 0xfe && bytes[1] === 0xff;
  const text = isLittle || isBig ? decodeUtf16(bytes, isLittle) : strFromU8(bytes);
  // What is no text decodes to replacement characters, and no score holds one.
  return text.includes('\uFFFD') || text.includes('\0')
    ? failure({ code: 'notText' })
    : success(text);
}

function decodeUtf16(bytes: Uint8Array, isLittle: boolean): string {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let text = '';
  for (let at = 2; at + 1 < bytes.length; at += 2) {
    text += String.fromCharCode(view.getUint16(at, isLittle));
  }
  return text;
}
