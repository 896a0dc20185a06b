/** A document as a tree of elements, in order. Nothing outside the document is ever read; no entity is unfolded. */

import { SaxesParser } from 'saxes';
import { failure, type Outcome, success } from '../../problem.ts';
import type { MusicXmlProblem } from './problem.ts';

export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: readonly XmlElement[];
  /** The text directly inside, white space at its ends cut off. */
  readonly text: string;
}

/** MusicXML nests about a dozen deep; beyond this a document is hostile. Own rule. */
const DEEPEST = 64;

interface OpenElement {
  readonly name: string;
  readonly attributes: Record<string, string>;
  readonly children: XmlElement[];
  text: string;
}

/**
 * Reads a document. A document type is passed over: entities it declares are unknown, and a reference to one is an
 * error. Problem: `xml`, the first thing that is not well-formed.
 */
export function readXml(text: string): Outcome<XmlElement, MusicXmlProblem> {
  const parser = new SaxesParser({ xmlns: false, position: true });
  const open: OpenElement[] = [];
  let root: XmlElement | null = null;
  let problem: MusicXmlProblem | null = null;
  const refuse = (why: string): void => {
    problem ??= { code: 'xml', line: parser.line, column: parser.column + 1, why };
  };
  parser.on('error', ({ message }) => refuse(message.replace(/^\d+:\d+: /u, '')));
  parser.on('opentag', ({ name, attributes }) => {
    if (open.length >= DEEPEST) refuse(`elements are nested more than ${DEEPEST} deep`);
    else open.push({ name, attributes: { ...attributes }, children: [], text: '' });
  });
  parser.on('text', (piece) => {
    const element = open.at(-1);
    if (element !== undefined) element.text += piece;
  });
  parser.on('closetag', () => {
    const element = open.pop();
    if (element === undefined) return;
    const closed = { ...element, text: element.text.trim() };
    const parent = open.at(-1);
    if (parent === undefined) root ??= closed;
    else parent.children.push(closed);
  });
  // In pieces, so that a hostile document ends the reading where it shows itself.
  for (let at = 0; at < text.length && problem === null; at += PIECE) {
    parser.write(text.slice(at, at + PIECE));
  }
  if (problem === null) parser.close();
  if (problem !== null) return failure<MusicXmlProblem>(problem);
  return root === null ? failure<MusicXmlProblem>({ code: 'empty' }) : success<XmlElement>(root);
}

/** What is wrong is told once; the rest of its piece is read in vain, a problem for each sign of it. */
const PIECE = 4096;

/** The first child of a name, or null. */
export function child(element: XmlElement | null, name: string): XmlElement | null {
  return element?.children.find((one) => one.name === name) ?? null;
}

export function childrenOf(element: XmlElement | null, name: string): readonly XmlElement[] {
  return element?.children.filter((one) => one.name === name) ?? [];
}

/** The text of a child, or null when there is none. */
export function childText(element: XmlElement | null, ...path: readonly string[]): string | null {
  let at = element;
  for (const name of path) at = child(at, name);
  return at === null ? null : at.text;
}

/** A child's text as a number, or null when it is none. */
export function childNumber(element: XmlElement | null, ...path: readonly string[]): number | null {
  const text = childText(element, ...path);
  const value = text === null || text === '' ? Number.NaN : Number(text);
  return Number.isFinite(value) ? value : null;
}
