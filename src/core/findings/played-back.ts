/** What became of a line that was to be played back, in words. */

import type { PlayedBack, PlayedBackNote } from '../score/index.ts';
import type { Paragraph } from './findings.ts';
import { counted } from './places.ts';

/** How many notes came back as they were heard, and every place where another or none was played. */
export function playedBackFindings({ notes, added }: PlayedBack): Paragraph {
  const same = notes.filter(({ verdict }) => verdict === 'same').length;
  const more = added === 0 ? '' : `, ${counted(added, 'note')} added`;
  return {
    title: `Played back: ${same} of ${counted(notes.length, 'note')} as heard${more}`,
    lines: notes
      .filter(({ verdict }) => verdict !== 'same')
      .map((note) => {
        const { chorus, bar, beat } = note;
        return {
          text: `chorus ${chorus}, bar ${bar}, beat ${beat}: ${whatCame(note)}`,
          place: { chorus, bar },
        };
      }),
  };
}

function whatCame({ expected, played, verdict }: PlayedBackNote): string {
  if (played === null) return `${expected} missing`;
  return verdict === 'octave'
    ? `${expected} in another octave, as ${played}`
    : `${played} for ${expected}`;
}
