/** Whole numbers scattered: numbers side by side come out unlike. */

/** 32 bits, as a signed whole number, from a whole number. MurmurHash3's finaliser, which is in the public domain; from memory. */
export function scatter(value: number): number {
  let bits = value | 0;
  bits = Math.imul(bits ^ (bits >>> 16), 0x85ebca6b);
  bits = Math.imul(bits ^ (bits >>> 13), 0xc2b2ae35);
  return bits ^ (bits >>> 16);
}
