/** What can be wrong with a MusicXML file, and what of one was not understood. Sentences are in `sentences.ts`. */

export type MusicXmlProblem =
  | { readonly code: 'empty' }
  | { readonly code: 'tooLarge'; readonly bytes: number }
  | { readonly code: 'notText' }
  /** Not a well-formed document; the place counts from 1. */
  | { readonly code: 'xml'; readonly line: number; readonly column: number; readonly why: string }
  | { readonly code: 'archive'; readonly why: string }
  | { readonly code: 'otherDocument'; readonly root: string }
  | { readonly code: 'timewise'; readonly measure: string; readonly part: string }
  | { readonly code: 'noHarmony'; readonly parts: number }
  | { readonly code: 'meter'; readonly measure: string; readonly read: string }
  | { readonly code: 'key'; readonly measure: string; readonly read: string }
  | { readonly code: 'tooLong'; readonly measures: number };

/** Something in the file that the chart does not hold. `measure` as the file numbers it, or null for the whole. */
export interface MusicXmlNotice {
  readonly measure: string | null;
  readonly what: string;
}
