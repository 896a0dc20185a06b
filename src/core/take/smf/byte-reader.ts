/** A cursor over bytes, big-endian as MIDI files are. Callers ask what is left before they read. */

export interface ByteReader {
  at(): number;
  left(): number;
  seek(offset: number): void;
  byte(): number;
  peek(): number;
  uint16(): number;
  uint32(): number;
  /** A view of the next bytes, not a copy. */
  slice(length: number): Uint8Array;
  /** Four letters at an offset, wherever the cursor is; empty beyond the end. */
  word(offset: number): string;
  /**
   * A variable-length quantity of at most four bytes, or −1 when it does not end before `end` or within four.
   * Source: SMF, "Conventions".
   */
  variableLength(end: number): number;
}

/** Starts reading at offset 0. */
export function createByteReader(bytes: Uint8Array): ByteReader {
  let cursor = 0;
  const byte = (): number => bytes[cursor++] ?? 0;
  return {
    at: () => cursor,
    left: () => bytes.length - cursor,
    seek: (offset) => {
      cursor = offset;
    },
    byte,
    peek: () => bytes[cursor] ?? 0,
    uint16: () => (byte() << 8) | byte(),
    uint32: () => byte() * 0x1000000 + ((byte() << 16) | (byte() << 8) | byte()),
    slice(length) {
      const view = bytes.subarray(cursor, cursor + length);
      cursor += length;
      return view;
    },
    word: (offset) => String.fromCharCode(...bytes.subarray(offset, offset + 4)),
    variableLength(end) {
      let value = 0;
      for (let read = 0; read < 4 && cursor < end; read++) {
        const next = byte();
        value = (value << 7) | (next & 0x7f);
        if (next < 0x80) return value;
      }
      return -1;
    },
  };
}
