/** What a file that is no MIDI file seems to be, so that the player sees which one was picked by mistake. */

/** First bytes of common files. Source: each format's own specification; from memory. */
const SIGNATURES: readonly (readonly [string, string])[] = [
  ['ID3', 'an MP3 sound file'],
  ['\xff\xfb', 'an MP3 sound file'],
  ['RIFF', 'a sound or video file'],
  ['OggS', 'an Ogg sound file'],
  ['fLaC', 'a FLAC sound file'],
  ['PK\x03\x04', 'a ZIP archive'],
  ['%PDF', 'a PDF document'],
  ['<?xml', 'an XML file'],
  ['title:', 'a chart'],
];

/** A few words on the file: `a PDF document`, `a text file`, or `a file of another kind`. */
export function whatFileIsThis(bytes: Uint8Array): string {
  const head = String.fromCharCode(...bytes.subarray(0, 64));
  const known = SIGNATURES.find(([signature]) => head.startsWith(signature));
  if (known) return known[1];
  return /^[\t\n\r\x20-\x7e]+$/.test(head) ? 'a text file' : 'a file of another kind';
}
