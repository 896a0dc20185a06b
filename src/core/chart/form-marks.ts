/** Marks that send the player elsewhere in the form. What they do is in `play-order.ts`. Source: common practice, no source. */

/** From where it goes on, and where it ends then: at `(fine)`, by way of the coda, or as far as the chart goes. */
export interface Jump {
  readonly to: 'start' | 'segno';
  readonly until: 'fine' | 'coda' | 'end';
}

/** A mark between two bars. The first `coda` of a chart is where it is left for the second. */
export type FormMark =
  | { readonly kind: 'segno' }
  | { readonly kind: 'coda' }
  | { readonly kind: 'fine' }
  | { readonly kind: 'jump'; readonly jump: Jump };

const jump = (to: Jump['to'], until: Jump['until']): FormMark => ({
  ...{ kind: 'jump', jump: { to, until } },
});

/** As they are written between parentheses, every one there is. */
const MARKS: readonly (readonly [name: string, mark: FormMark])[] = [
  ['segno', { kind: 'segno' }],
  ['coda', { kind: 'coda' }],
  ['fine', { kind: 'fine' }],
  ['D.C.', jump('start', 'end')],
  ['D.C. al fine', jump('start', 'fine')],
  ['D.C. al coda', jump('start', 'coda')],
  ['D.S.', jump('segno', 'end')],
  ['D.S. al fine', jump('segno', 'fine')],
  ['D.S. al coda', jump('segno', 'coda')],
];

/** The names of all marks, as they are written. */
export const FORM_MARK_NAMES: readonly string[] = MARKS.map(([name]) => name);

/** Letters alone, the long names as the short ones: people write `DC`, `d.s. al Coda`, `Da Capo`, `to Coda`. */
function plain(name: string): string {
  return name
    .toLowerCase()
    .replace(/[^a-z]/gu, '')
    .replace(/^dacapo/u, 'dc')
    .replace(/^dalsegno/u, 'ds')
    .replace(/^tocoda$/u, 'coda');
}

const BY_PLAIN = new Map(MARKS.map(([name, mark]) => [plain(name), mark]));

/** Reads what stands between the parentheses; null for anything else. */
export function parseFormMark(name: string): FormMark | null {
  return BY_PLAIN.get(plain(name)) ?? null;
}

/** Writes a mark without its parentheses; the inverse of `parseFormMark`. */
export function formatFormMark(mark: FormMark): string {
  const found = MARKS.find(([, one]) => isSameMark(one, mark));
  return found?.[0] ?? mark.kind;
}

export function isSameMark(one: FormMark, other: FormMark): boolean {
  if (one.kind !== 'jump' || other.kind !== 'jump') return one.kind === other.kind;
  return one.jump.to === other.jump.to && one.jump.until === other.jump.until;
}
