/** One chorus of a take on a staff, what was wrong with a note below it; the whole take as a score file. */

import { useMemo } from 'react';
import type { Form } from '../../../core/chart/index.ts';
import type { Report } from '../../../core/grading/index.ts';
import { type PickupNote, takeMeasures, writeScoreMusicXml } from '../../../core/score/index.ts';
import type { SlotsPerBeat } from '../../../core/words.ts';
import { fileName, saveMusicXml } from '../../app/save-file.ts';
import { withSigns } from '../../look/signs.ts';
import { LineStaff } from '../../notation/line-staff.tsx';

interface TakeStaffProps {
  readonly form: Form;
  readonly report: Report;
  readonly pickup: readonly PickupNote[];
  readonly slotsPerBeat: SlotsPerBeat | null;
  readonly chorus: number;
  /** The bar that sounds, or null. */
  readonly soundingBar: number | null;
}

export default function TakeStaff(props: TakeStaffProps) {
  const { form, report, pickup, slotsPerBeat, chorus, soundingBar } = props;
  const { measures, unwritten } = useMemo(
    () => takeMeasures(form, report, slotsPerBeat, pickup),
    [form, report, slotsPerBeat, pickup],
  );
  const shown = useMemo(
    () => measures.filter((measure) => measure.chorus === chorus),
    [measures, chorus],
  );
  const faults = useMemo(
    () =>
      new Map(
        report.slots
          .filter((slot) => slot.faults.length > 0)
          .map((slot) => [slot.index, slot.faults] as const),
      ),
    [report],
  );
  const sounding = shown.findIndex(({ bar }) => bar === soundingBar);
  function save(): void {
    const title = `${form.title}, ${report.level}`;
    saveMusicXml(fileName(title), writeScoreMusicXml(form, measures, title, report.tempo));
  }
  return (
    <>
      <div className="row">
        <button type="button" onClick={save}>
          Save the take as MusicXML
        </button>
        {unwritten > 0 && (
          <span className="soft">
            {unwritten === 1
              ? 'One note came too close to another to be written.'
              : `${unwritten} notes came too close to another to be written.`}
          </span>
        )}
      </div>
      <LineStaff
        form={form}
        measures={shown}
        label={labelOf(report, chorus)}
        showPalettes={false}
        current={sounding === -1 ? null : sounding}
        faults={faults}
      />
    </>
  );
}

/** Every note of a chorus in words, with what was wrong. */
function labelOf({ slots }: Report, chorus: number): string {
  const words = slots
    .filter((slot) => slot.chorus === chorus)
    .map(({ note, faults }) => {
      const name = note === null ? 'no note' : withSigns(note.name);
      return faults.length === 0 ? name : `${name} (${faults.join(', ')})`;
    });
  return `Chorus ${chorus}: ${words.join(' ')}`;
}
