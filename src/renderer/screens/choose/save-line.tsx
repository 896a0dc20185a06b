/** A written line saved: as a MIDI file at its tempo, or as notation for other programs. */

import type { Form } from '../../../core/chart/index.ts';
import { lineMidi, type WrittenLine } from '../../../core/line/index.ts';
import { lineMeasures, writeScoreMusicXml } from '../../../core/score/index.ts';
import { fileName, saveMidi, saveMusicXml } from '../../app/save-file.ts';

interface SaveLineProps {
  readonly form: Form;
  readonly line: WrittenLine;
  readonly tempoBpm: number;
  /** What the line is: `example line`. */
  readonly name: string;
}

export function SaveLine({ form, line, tempoBpm, name }: SaveLineProps) {
  const title = `${form.title}, ${name}`;
  const file = fileName(title);
  return (
    <div className="row save-line">
      <button
        type="button"
        onClick={() => {
          saveMidi(file, lineMidi(form, line, tempoBpm, title));
        }}
      >
        Save the line as MIDI
      </button>
      <button
        type="button"
        onClick={() => {
          const measures = lineMeasures(form, line);
          saveMusicXml(file, writeScoreMusicXml(form, measures, title, tempoBpm));
        }}
      >
        Save the line as MusicXML
      </button>
    </div>
  );
}
