/** The package ships no types. What we use: it adds a constructor to JZZ that reads a file given as a Latin-1 string. */
declare module 'jzz-midi-smf' {
  /** A MIDI message as bytes; `tt` is its tick. */
  export interface SmfMessage extends ReadonlyArray<number> {
    readonly tt: number;
  }
  export interface SmfReader {
    new (bytes: string): { readonly [track: number]: readonly SmfMessage[] };
  }
  export default function addSmf(jzz: unknown): void;
}
