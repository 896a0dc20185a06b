/** Parts of packages that ship no types, or whose types do not cover the file that loads in Node. */

declare module 'teoria' {
  interface TeoriaNote {
    readonly scale: (name: string) => { readonly notes: () => readonly TeoriaNote[] };
    readonly chroma: () => number;
  }
  const teoria: { readonly note: (name: string) => TeoriaNote };
  export default teoria;
}

declare module 'chord-symbol/lib/chord-symbol.js' {
  interface Parsed {
    readonly error?: readonly unknown[];
    readonly normalized?: { readonly semitones: readonly number[] };
  }
  export function chordParserFactory(): (symbol: string) => Parsed;
}
