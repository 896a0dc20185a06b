/** Zip files written by hand, so that any field of them can lie. Layout: ZIP file format specification (APPNOTE 4.3). */

import { crc32, deflateRawSync } from 'node:zlib';

/** An entry; what is given beside name and bytes is written as it is, true or not. */
export interface ZipEntry {
  readonly name: string;
  readonly bytes: Uint8Array;
  /** The bytes folded already; folded here when it is missing. */
  readonly folded?: Uint8Array | undefined;
  readonly method?: number;
  readonly flags?: number;
  readonly sum?: number;
  readonly packedSize?: number;
  readonly size?: number;
  /** The name at the entry itself, where the list has another. */
  readonly nameThere?: string;
  /** The number of the entry whose bytes it claims for its own. */
  readonly bytesOf?: number;
}

/** What the end record says of the list of files. */
export interface ZipEnd {
  readonly count?: number;
  readonly listSize?: number;
  readonly listOffset?: number;
  readonly comment?: Uint8Array;
}

const STORED = 0;
const DEFLATED = 8;
/** Names are in UTF-8. */
const UTF8 = 0x800;

export function makeZip(entries: readonly ZipEntry[], end: ZipEnd = {}): Uint8Array {
  const parts: Uint8Array[] = [];
  const list: Uint8Array[] = [];
  const offsets: number[] = [];
  let at = 0;
  for (const entry of entries) {
    const method = entry.method ?? (entry.folded === undefined ? STORED : DEFLATED);
    const data = entry.folded ?? (method === DEFLATED ? deflateRawSync(entry.bytes) : entry.bytes);
    const name = Buffer.from(entry.name);
    const nameThere = Buffer.from(entry.nameThere ?? entry.name);
    // What a header at the entry and its line in the list have in common, from the version on.
    const common = Buffer.alloc(26);
    common.writeUInt16LE(20, 0);
    common.writeUInt16LE((entry.flags ?? 0) | UTF8, 2);
    common.writeUInt16LE(method, 4);
    common.writeUInt32LE((entry.sum ?? crc32(entry.bytes)) >>> 0, 10);
    common.writeUInt32LE((entry.packedSize ?? data.length) >>> 0, 14);
    common.writeUInt32LE((entry.size ?? entry.bytes.length) >>> 0, 18);
    const header = Buffer.concat([signature(0x04034b50), common, nameThere]);
    header.writeUInt16LE(nameThere.length & 0xffff, 26);
    offsets.push(at);
    const line = Buffer.concat([
      signature(0x02014b50),
      Buffer.from([20, 0]),
      common,
      LINE_REST,
      name,
    ]);
    line.writeUInt16LE(name.length & 0xffff, 28);
    line.writeUInt32LE(offsets[entry.bytesOf ?? offsets.length - 1] ?? at, 42);
    list.push(line);
    parts.push(header, data);
    at += header.length + data.length;
  }
  const listSize = list.reduce((sum, line) => sum + line.length, 0);
  const comment = end.comment ?? new Uint8Array();
  const record = Buffer.alloc(22);
  record.writeUInt32LE(0x06054b50, 0);
  record.writeUInt16LE((end.count ?? entries.length) & 0xffff, 8);
  record.writeUInt16LE((end.count ?? entries.length) & 0xffff, 10);
  record.writeUInt32LE((end.listSize ?? listSize) >>> 0, 12);
  record.writeUInt32LE((end.listOffset ?? at) >>> 0, 16);
  record.writeUInt16LE(comment.length & 0xffff, 20);
  return Buffer.concat([...parts, ...list, record, comment]);
}

/** Comment, disk, attributes and offset of a line of the list. */
const LINE_REST = Buffer.alloc(14);

function signature(number: number): Uint8Array {
  const bytes = Buffer.alloc(4);
  bytes.writeUInt32LE(number);
  return bytes;
}
