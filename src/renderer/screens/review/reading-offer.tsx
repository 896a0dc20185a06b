/** Another reading of the take, offered before any list of faults: graded by it, left as it is, or taken back again. */

import { useState } from 'react';
import type { TakeDecision, TakeRecord } from '../../../../shared/bridge/index.ts';
import type { Reading } from '../../../core/grading/index.ts';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { withSigns } from '../../look/signs.ts';
import { storeSwing } from '../../prepare/practice-choice.ts';
import type { ReadRecord } from '../../prepare/read-record.ts';
import { calibratedBy, keptSwing } from './reading-model.ts';

interface ReadingOfferProps {
  readonly record: TakeRecord;
  readonly told: NonNullable<ReadRecord['reading']>;
  readonly onCalibrate: (deviceName: string) => void;
}

export function ReadingOffer({ record, told, onCalibrate }: ReadingOfferProps) {
  const { bridge } = useProgram();
  const [failure, setFailure] = useState<string | null>(null);
  const { reading, words } = told;
  const { takeId } = record.row;
  const deviceName = calibratedBy(record, reading);

  async function decide(decision: TakeDecision | null): Promise<void> {
    const reply = await bridge.ask('takes.decide', { takeId, decision });
    setFailure(reply.ok ? null : refusalWords(reply.refusal));
    if (!reply.ok) return;
    const swing = keptSwing(record, reading, decision);
    if (swing === null) return;
    const stored = await bridge.ask('settings.get', {});
    if (!stored.ok) return;
    const values = storeSwing(stored.value, record.setUp.chartId, swing);
    await bridge.ask('settings.set', { values });
  }

  return (
    <section className="reading" aria-label="How this take is read">
      <p>
        <strong>{withSigns(words)}</strong>
      </p>
      <p>{answerWords(record, reading)}</p>
      <div className="row">
        {record.decision === null ? (
          <>
            <button type="button" onClick={() => void decide({ reading, choice: 'taken' })}>
              Grade by it
            </button>
            <button type="button" onClick={() => void decide({ reading, choice: 'refused' })}>
              Leave it as it is
            </button>
          </>
        ) : (
          <button type="button" onClick={() => void decide(null)}>
            Undo
          </button>
        )}
        {deviceName !== null && (
          <button type="button" onClick={() => onCalibrate(deviceName)}>
            Calibrate {deviceName}
          </button>
        )}
      </div>
      {failure !== null && <p className="notice">{failure}</p>}
    </section>
  );
}

function answerWords(record: TakeRecord, reading: Reading): string {
  const { decision } = record;
  if (decision?.choice === 'refused') return 'You left the take as it is.';
  if (decision?.choice !== 'taken') return 'How is this take to be graded?';
  const moved = reading.kind === 'key' ? ' It counts for the practice in that key.' : '';
  const kept =
    keptSwing(record, reading, decision) === null ? '' : ' The swing is kept for your next takes.';
  return `The take is graded by that.${moved}${kept}`;
}
