/** Changes of text as values. */

/** Characters from `from` up to, but not including, `to` give way to `insert`; offsets count UTF-16 units from 0. */
export interface TextEdit {
  readonly from: number;
  readonly to: number;
  readonly insert: string;
}

/** Applies edits that do not overlap, in any order. */
export function applyEdits(text: string, edits: readonly TextEdit[]): string {
  const inOrder = [...edits].sort((one, other) => one.from - other.from);
  let edited = '';
  let at = 0;
  for (const { from, to, insert } of inOrder) {
    edited += text.slice(at, from) + insert;
    at = to;
  }
  return edited + text.slice(at);
}
