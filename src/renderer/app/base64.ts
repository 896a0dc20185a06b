/** Bytes as the bridge carries them. */

/** The bytes of base64 text. */
export function bytesFromBase64(base64: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
}

/** As many arguments as a call takes everywhere. */
const PART = 0x8000;

/** The inverse of `bytesFromBase64`. */
export function base64FromBytes(bytes: Uint8Array): string {
  let letters = '';
  for (let from = 0; from < bytes.length; from += PART) {
    letters += String.fromCharCode(...bytes.subarray(from, from + PART));
  }
  return btoa(letters);
}
