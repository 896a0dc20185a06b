/** The take out into the world: MIDI, a table, the report as data. */

import type { TakeRecord } from '../../../../shared/bridge/index.ts';
import { HAND_OVER_ENDING } from '../../../../shared/hand-over-ending.ts';
import type { Form } from '../../../core/chart/index.ts';
import { CSV_HEADER, type Report, reportCsv } from '../../../core/grading/index.ts';
import { encodeTakeFile } from '../../../core/take/smf/index.ts';
import { fileName, saveFile, saveMidi } from '../../app/save-file.ts';
import { writeHandOver } from '../../prepare/hand-over.ts';
import { firstChoice } from '../../prepare/practice-choice.ts';
import { recordedTake } from '../../prepare/recorded-take.ts';

interface ExportProps {
  readonly record: TakeRecord;
  readonly form: Form;
  readonly report: Report;
}

/** The take with its chart and how it was played, as one file. */
export function takeAsHandOver(record: TakeRecord): string {
  const { setUp, row } = record;
  const { chartText: text, chartTitle: title, plan, key, bars, grade } = setUp;
  const tempoBpm = grade.tempo.kind === 'steady' ? grade.tempo.tempoBpm : null;
  const { level, choruses } = grade;
  const choice = { ...firstChoice(), plan, key, bars, level, tempoBpm, choruses };
  const { startedAtMs, note } = row;
  return writeHandOver({ title, text, melody: null }, choice, note, {
    setUp,
    startedAtMs,
    ...recordedTake(record),
  });
}

export function ExportButtons({ record, form, report }: ExportProps) {
  const name = fileName(form.title);
  return (
    <>
      <button
        type="button"
        onClick={() => {
          const { tempo, level } = record.setUp.grade;
          const { meter, key, title } = form;
          const take = recordedTake(record);
          const says = { settings: record.setUp.grade, decision: record.decision };
          const titled = { name: `${title}, ${level}`, ...says };
          saveMidi(name, encodeTakeFile({ take, tempo, meter, key, ...titled }));
        }}
      >
        Save as MIDI
      </button>
      <button
        type="button"
        onClick={() =>
          saveFile(`${name}.csv`, CSV_HEADER + reportCsv(report, `${name}.mid`), 'text/csv')
        }
      >
        Save slots as CSV
      </button>
      <button
        type="button"
        onClick={() => saveFile(`${name}.json`, JSON.stringify(report), 'application/json')}
      >
        Save report as JSON
      </button>
      <button
        type="button"
        onClick={() =>
          saveFile(`${name}${HAND_OVER_ENDING}`, takeAsHandOver(record), 'application/json')
        }
      >
        Save to hand over
      </button>
      <button type="button" onClick={() => window.print()}>
        Print
      </button>
    </>
  );
}
