/** PNG pictures of several sizes in one file, as Windows and macOS want them. */

export interface Picture {
  /** Pixels on each side. */
  readonly size: number;
  readonly png: Uint8Array;
}

/**
 * An .ico of PNG pictures up to 256 pixels. Source: Microsoft, "Icons" (Win32 documentation): a header of 6 bytes, an entry
 * of 16 for each picture in which 256 is written as 0, then the pictures.
 */
export function icoOf(pictures: readonly Picture[]): Uint8Array {
  const header = Buffer.alloc(6 + 16 * pictures.length);
  header.writeUInt16LE(1, 2);
  header.writeUInt16LE(pictures.length, 4);
  let offset = header.length;
  pictures.forEach(({ size, png }, index) => {
    const at = 6 + 16 * index;
    header.writeUInt8(size % 256, at);
    header.writeUInt8(size % 256, at + 1);
    header.writeUInt16LE(1, at + 4);
    header.writeUInt16LE(32, at + 6);
    header.writeUInt32LE(png.length, at + 8);
    header.writeUInt32LE(offset, at + 12);
    offset += png.length;
  });
  return Buffer.concat([header, ...pictures.map(({ png }) => png)]);
}

/** Which kinds hold a PNG of which size, from memory: once for plain screens, once for screens of double density. */
export const ICNS_KINDS: readonly (readonly [kind: string, size: number])[] = [
  ['ic11', 32],
  ['ic12', 64],
  ['ic07', 128],
  ['ic13', 256],
  ['ic08', 256],
  ['ic14', 512],
  ['ic09', 512],
  ['ic10', 1024],
];

/** An .icns: `icns` and the length of all, then kind, length and PNG of each picture; numbers big-endian. From memory. */
export function icnsOf(pictures: readonly Picture[]): Uint8Array {
  const chunks = ICNS_KINDS.flatMap(([kind, size]) => {
    const picture = pictures.find((one) => one.size === size);
    return picture === undefined ? [] : [chunk(kind, picture.png)];
  });
  return chunk('icns', Buffer.concat(chunks));
}

function chunk(kind: string, content: Uint8Array): Buffer {
  const head = Buffer.alloc(8);
  head.write(kind, 'latin1');
  head.writeUInt32BE(8 + content.length, 4);
  return Buffer.concat([head, content]);
}
