/** Bytes from hexadecimal text; blanks and line ends between digits do not count. */
export function hex(text: string): Uint8Array {
  const digits = text.replace(/\s+/g, '');
  return Uint8Array.from({ length: digits.length / 2 }, (_, at) =>
    Number.parseInt(digits.slice(2 * at, 2 * at + 2), 16),
  );
}

/** A file of format 0 around the bytes of one track, without its end of track. */
export function fileOf(track: string, division = '0060', format = '0000'): Uint8Array {
  const body = hex(`${track} 00FF2F00`);
  const length = body.length.toString(16).padStart(8, '0');
  return Uint8Array.from([
    ...hex(`4D546864 00000006 ${format} 0001 ${division} 4D54726B ${length}`),
    ...body,
  ]);
}
