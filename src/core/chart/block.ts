/**
 * The bars of one plan as they stand in the text, before anything inside them is understood: which tokens lie
 * between which bar lines, in which section, under which repeat signs.
 */

import type { TextPlace } from '../problem.ts';
import type { SourceLine } from './lines.ts';
import { formatMeter, METERS, parseMeter } from './meter.ts';
import type { Meter } from './model.ts';
import { nearestOf } from './nearest.ts';
import { type ChartProblem, chartProblem } from './problems.ts';
import {
  type BarLineToken,
  formatBarSign,
  type MeterToken,
  type PaletteToken,
  type Token,
  tokenize,
  type WordToken,
} from './tokens.ts';

export type ContentToken = WordToken | PaletteToken;

export interface RawBar {
  /** The first thing that stands in it, or the bar line that opens it. */
  readonly place: TextPlace;
  readonly tokens: readonly ContentToken[];
  /** Where `|:` stands, and so on; null where there is none. */
  readonly repeatStart: TextPlace | null;
  readonly repeatEnd: TextPlace | null;
  readonly ending: { readonly number: number; readonly place: TextPlace } | null;
  readonly doubleAfter: boolean;
  /** A meter change written just before this bar. */
  readonly meterChange: { readonly meter: Meter | null; readonly place: TextPlace } | null;
}

export interface RawSection {
  readonly name: string | null;
  readonly place: TextPlace;
  readonly bars: readonly RawBar[];
}

export interface RawBlock {
  readonly sections: readonly RawSection[];
  /** False when a bar line is wrong, so that counting the bars would only lead astray. */
  readonly countable: boolean;
  readonly problems: readonly ChartProblem[];
}

type Mutable<Type> = { -readonly [Key in keyof Type]: Type[Key] };
type OpenBar = Mutable<RawBar>;

/** Reads the lines of one block: sections, bars and stand-alone meter changes. Blank lines are skipped. */
export function readBlock(lines: readonly SourceLine[]): RawBlock {
  return new BlockReader().read(lines);
}

/** Collects bars while walking the lines; the state is what the next bar will begin with. */
class BlockReader {
  readonly #sections: { name: string | null; place: TextPlace; bars: OpenBar[] }[] = [];
  readonly #problems: ChartProblem[] = [];
  #countable = true;
  #last: OpenBar | null = null;
  #repeatStart: TextPlace | null = null;
  #ending: RawBar['ending'] = null;
  #meterChange: RawBar['meterChange'] = null;

  read(lines: readonly SourceLine[]): RawBlock {
    for (const line of lines) this.#readLine(line);
    this.#finish();
    return { sections: this.#sections, countable: this.#countable, problems: this.#problems };
  }

  #readLine(line: SourceLine): void {
    const start = line.text.length - line.text.trimStart().length;
    if (line.text[start] !== '[') {
      this.#readBars(line, tokenize(line));
      return;
    }
    const end = line.text.indexOf(']', start);
    const name = line.text.slice(start + 1, end < 0 ? undefined : end).trim();
    const place = { line: line.line, column: start + 1 };
    if (end < 0 || name === '' || name.includes('|')) {
      const suggestion = name === '' || name.includes('|') ? null : `[${name}]`;
      this.#report(
        'unknownSection',
        place,
        line.text.slice(start),
        'a section name such as [A]',
        suggestion,
      );
    }
    this.#closeSection();
    this.#sections.push({ name: name === '' ? null : name, place, bars: [] });
    if (end >= 0) this.#readBars(line, tokenize(line, end + 2));
  }

  #readBars(line: SourceLine, tokens: readonly Token[]): void {
    const first = tokens[0];
    if (first === undefined) return;
    let opened = false;
    let cell: Exclude<Token, BarLineToken>[] = [];
    let lastLine: BarLineToken | null = null;
    for (const token of tokens) {
      if (token.kind !== 'barLine') {
        cell.push(token);
        continue;
      }
      if (opened || cell.length > 0) this.#readCell(cell, lastLine, token);
      this.#readBarLine(token);
      cell = [];
      opened = true;
      lastLine = token;
    }
    if (cell.some((token) => token.kind !== 'meter')) this.#reportOpenEnd(line, cell, opened);
    if (cell.length > 0) this.#readCell(cell, lastLine, null);
  }

  #reportOpenEnd(line: SourceLine, cell: readonly Token[], opened: boolean): void {
    this.#countable = false;
    if (!opened) return;
    // `C7 #9` is the usual cause: the white space makes a comment of the rest of the line.
    const read = line.comment?.text ?? 'the end of the line';
    const column = line.comment?.column ?? line.text.length + 1;
    const altered = line.comment !== null && /^#[0-9]/u.test(line.comment.text);
    const last = cell.at(-1)?.text ?? '';
    const suggestion = altered ? last + (line.comment?.text.split(/\s/u, 1)[0] ?? '') : '|';
    this.#report(
      'barNotClosed',
      { line: line.line, column },
      read,
      'a bar line | that ends the bar',
      suggestion,
    );
  }

  /** What stands between two bar lines: a bar, or a meter change alone. */
  #readCell(
    cell: readonly Exclude<Token, BarLineToken>[],
    before: BarLineToken | null,
    after: BarLineToken | null,
  ): void {
    const content: ContentToken[] = [];
    let changed = false;
    for (const token of cell) {
      if (token.kind !== 'meter') content.push(token);
      else if (content.length === 0) {
        this.#readMeter(token);
        changed = true;
      } else
        this.#report(
          'meterInsideBar',
          token,
          token.text,
          'a meter change before the bar, not inside it',
          null,
        );
    }
    if (content.length === 0 && changed) return;
    const first = content[0];
    const place = first ?? before ?? after ?? { line: 1, column: 1 };
    if (before === null && first !== undefined) {
      const expected = 'a bar line | before the first chord of the line';
      this.#report('barNotOpened', first, first.text, expected, `| ${first.text}`);
      this.#countable = false;
    }
    if (first === undefined && after !== null) {
      const read = `${before?.text ?? ''} ${after.text}`;
      this.#report('emptyBar', after, read, 'a chord, % or N.C. between two bar lines', null);
      this.#countable = false;
    }
    this.#addBar({ line: place.line, column: place.column }, content);
  }

  #readMeter(token: MeterToken): void {
    const meter = parseMeter(token.name);
    if (meter === null) {
      const names = METERS.map(formatMeter);
      const near = nearestOf(token.name, names);
      const suggestion = near === null ? null : `(${near})`;
      this.#report(
        'unknownMeter',
        token,
        token.text,
        `one of the meters ${names.join(', ')}`,
        suggestion,
      );
    }
    this.#meterChange = { meter, place: { line: token.line, column: token.column } };
  }

  #readBarLine(token: BarLineToken): void {
    const place = { line: token.line, column: token.column };
    const { sign } = token;
    if (sign === null) {
      const expected = 'one of the bar lines |  ||  |:  :|  :|:';
      this.#report('unknownBarLine', place, token.text, expected, nearestBarLine(token.text));
      this.#countable = false;
      return;
    }
    if (sign.repeatEnd && this.#last === null) {
      const expected = 'bars before the end of a repeat';
      this.#report('repeatNotOpened', place, token.text, expected, '|:');
    }
    if (this.#last !== null) {
      if (sign.repeatEnd) this.#last.repeatEnd = place;
      if (sign.double) this.#last.doubleAfter = true;
    }
    if (sign.repeatStart) this.#repeatStart = place;
    if (sign.ending !== null) this.#ending = { number: sign.ending, place };
  }

  #addBar(place: TextPlace, tokens: readonly ContentToken[]): void {
    const bar: OpenBar = {
      place,
      tokens,
      repeatStart: this.#repeatStart,
      repeatEnd: null,
      ending: this.#ending,
      doubleAfter: false,
      meterChange: this.#meterChange,
    };
    this.#repeatStart = null;
    this.#ending = null;
    this.#meterChange = null;
    this.#last = bar;
    if (this.#sections.length === 0) this.#sections.push({ name: null, place, bars: [] });
    this.#sections.at(-1)?.bars.push(bar);
  }

  #closeSection(): void {
    const open = this.#sections.at(-1);
    if (open === undefined || open.bars.length > 0) return;
    this.#report(
      'emptySection',
      open.place,
      `[${open.name ?? ''}]`,
      'at least one bar in the section',
      null,
    );
  }

  #finish(): void {
    this.#closeSection();
    if (this.#repeatStart !== null) {
      this.#report(
        'repeatNotClosed',
        this.#repeatStart,
        '|:',
        'bars after the start of a repeat, then :|',
        null,
      );
    }
    if (this.#ending !== null) {
      const { number, place } = this.#ending;
      this.#report(
        'endingOutOfOrder',
        place,
        `|${number}`,
        `bars after the start of ending ${number}`,
        null,
      );
    }
    if (this.#meterChange !== null) {
      const { meter, place } = this.#meterChange;
      const read = meter === null ? 'a meter change' : `(${formatMeter(meter)})`;
      this.#report('meterWithoutBar', place, read, 'a bar after the meter change', null);
    }
  }

  #report(
    code: ChartProblem['code'],
    place: TextPlace,
    read: string,
    expected: string,
    suggestion: string | null,
  ): void {
    this.#problems.push(chartProblem(code, place, read, expected, suggestion));
  }
}

/** The bar line that was probably meant: the same repeats, without what is too much. */
function nearestBarLine(text: string): string {
  return formatBarSign({
    repeatEnd: text.startsWith(':'),
    double: text.includes('||') && !text.includes(':'),
    repeatStart: text.endsWith(':'),
    ending: null,
  });
}
