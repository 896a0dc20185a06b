/** A score written measure by measure across parts, as one written part by part. */

import { failure, type Outcome, success } from '../../problem.ts';
import type { MusicXmlProblem } from './problem.ts';
import { childrenOf, type XmlElement } from './xml-tree.ts';

/**
 * Turns `score-timewise` into `score-partwise`; any other document is handed back as it is. Each measure of it holds
 * all parts. Source: MusicXML 4.0, "score-timewise" and parttime.xsl, which does the reverse. Problem: `timewise`, the
 * first measure that lacks a part.
 */
export function byParts(score: XmlElement): Outcome<XmlElement, MusicXmlProblem> {
  if (score.name !== 'score-timewise') return success(score);
  const measures = childrenOf(score, 'measure').map((measure) => ({
    measure,
    parts: new Map(childrenOf(measure, 'part').map((part) => [attributeOf(part, 'id'), part])),
  }));
  const ids = [...(measures[0]?.parts.keys() ?? [])];
  const parts: XmlElement[] = [];
  for (const id of ids) {
    const inPart: XmlElement[] = [];
    for (const { measure, parts } of measures) {
      const part = parts.get(id);
      if (part === undefined) {
        return failure({ code: 'timewise', measure: attributeOf(measure, 'number'), part: id });
      }
      inPart.push({ ...measure, children: part.children });
    }
    parts.push({ name: 'part', attributes: { id }, children: inPart, text: '' });
  }
  const rest = score.children.filter(({ name }) => name !== 'measure');
  return success({ ...score, name: 'score-partwise', children: [...rest, ...parts] });
}

function attributeOf({ attributes }: XmlElement, name: string): string {
  return attributes[name] ?? '';
}
