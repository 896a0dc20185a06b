/** Problems and notices in words: what, where, what to do. */

import { formatMeter, METERS } from '../meter.ts';
import type { MusicXmlNotice, MusicXmlProblem } from './problem.ts';

/** What a file says is shown up to this length. */
const LONGEST_SHOWN = 200;

function shown(text: string): string {
  return text.length <= LONGEST_SHOWN ? text : `${text.slice(0, LONGEST_SHOWN)}…`;
}

export function describeMusicXmlProblem(problem: MusicXmlProblem): string {
  switch (problem.code) {
    case 'empty':
      return 'The file is empty. Export it again.';
    case 'tooLarge':
      return `The file would unfold to ${problem.bytes} bytes, more than any score needs. Export the one tune alone.`;
    case 'notText':
      return 'It is no text in UTF-8 or UTF-16. Export it again as MusicXML.';
    case 'xml':
      return `Line ${problem.line}, column ${problem.column}: ${shown(problem.why)}. Export it again as MusicXML.`;
    case 'archive':
      return `The compressed file cannot be opened: ${shown(problem.why)}. Export it again, or without compression.`;
    case 'otherDocument':
      return `It is a document of another kind (<${shown(problem.root)}>). Export it as MusicXML.`;
    case 'timewise':
      return `It is written measure by measure across parts (score-timewise), and measure ${shown(problem.measure)} lacks part ${shown(problem.part)}. Export it again as score-partwise, which is the usual form.`;
    case 'noHarmony':
      return `It has ${problem.parts === 1 ? 'one part' : `${problem.parts} parts`} and no chord symbol. Add the chord symbols and export it again.`;
    case 'meter':
      return `Measure ${shown(problem.measure)} is in ${shown(problem.read)}; a chart can be in ${METERS.map(formatMeter).join(', ')}.`;
    case 'key':
      return `Measure ${shown(problem.measure)} has the key signature ${shown(problem.read)}, which has no name. Give it one of up to seven sharps or flats.`;
    case 'tooLong':
      return `It has ${problem.measures} measures, more than a chart may have. Export the one tune alone.`;
  }
}

export function describeMusicXmlNotice({ measure, what }: MusicXmlNotice): string {
  return measure === null ? `${shown(what)}.` : `Measure ${shown(measure)}: ${shown(what)}.`;
}
