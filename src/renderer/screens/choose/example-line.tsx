/** An example for what is about to be practised, a line or a drill: written, heard with click and bass, saved. */

import { useMemo, useState } from 'react';
import type { Form } from '../../../core/chart/index.ts';
import { type DrillStyle, drillOf, SHAPE_DENSITIES } from '../../../core/line/index.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { CheckField } from '../../look/fields.tsx';
import { WrittenStaff } from '../../notation/written-staff.tsx';
import { ownRules, type PracticeChoice } from '../../prepare/practice-choice.ts';
import { type Beginning, beginAt, writeExample } from '../../prepare/written-example.ts';
import { useLineHearing } from '../../session/use-line-hearing.ts';
import { BeginField } from './begin-field.tsx';
import { DrillWords } from './drill-words.tsx';
import { ExampleFields } from './example-fields.tsx';
import { SaveLine } from './save-line.tsx';

interface ExampleLineProps {
  /** The bars that are practised. */
  readonly form: Form;
  readonly choice: PracticeChoice;
  readonly tempoBpm: number;
  readonly onChange: (part: Partial<PracticeChoice>) => void;
}

export default function ExampleLine({ form, choice, tempoBpm, onChange }: ExampleLineProps) {
  const [style, setStyle] = useState<DrillStyle | null>(null);
  const [beginning, setBeginning] = useState<Beginning>('anywhere');
  const [keyMidi, setKeyMidi] = useState<number | null>(null);
  const [seed, setSeed] = useState(1);
  const [isLooping, setLooping] = useState(false);
  const [showPalettes, setShowPalettes] = useState(false);
  const { isPlaying, failure, current, hear, stop } = useLineHearing(form, tempoBpm);
  const { level, slotsPerBeat, swing, exampleShape, exampleRegister: register } = choice;
  const { exampleStyle: lineStyle } = choice;
  const { approach, repeats, lineUp, anticipation } = choice;
  const drill = style === null ? null : drillOf(style);

  const written = useMemo(() => {
    const density = SHAPE_DENSITIES[exampleShape];
    const rules = ownRules({ approach, repeats, lineUp, anticipation });
    const asked = { level, slotsPerBeat, swing, rules, register, seed, choruses: 1 };
    const wish = { ...asked, style: lineStyle, density, direction: 0 };
    return writeExample(form, style, { ...wish, ...beginAt(beginning, keyMidi) });
  }, [
    form,
    style,
    level,
    slotsPerBeat,
    swing,
    lineStyle,
    exampleShape,
    register,
    seed,
    beginning,
    keyMidi,
    approach,
    repeats,
    lineUp,
    anticipation,
  ]);
  const line = written.ok ? written.value : null;

  return (
    <>
      <div className="row">
        <ExampleFields style={style} onStyle={setStyle} choice={choice} onChange={onChange} />
      </div>
      <div className="row">
        <BeginField
          beginning={beginning}
          keyMidi={keyMidi}
          onBeginning={setBeginning}
          onKey={setKeyMidi}
        />
      </div>
      {drill !== null && <DrillWords drill={drill} line={line} />}
      <div className="row">
        <button
          type="button"
          disabled={line === null && !isPlaying}
          onClick={() => {
            if (isPlaying) stop();
            else if (line !== null) hear(line, isLooping);
          }}
        >
          {isPlaying ? 'Stop' : 'Hear the line'}
        </button>
        {(drill === null || drill.varies) && (
          <button type="button" onClick={() => setSeed(seed + 1)}>
            Another line
          </button>
        )}
        <CheckField label="Again and again" checked={isLooping} onChange={setLooping} />
        <CheckField label="Palettes below" checked={showPalettes} onChange={setShowPalettes} />
      </div>
      <FailureNotice words={failure} />
      {written.ok ? (
        <>
          <WrittenStaff
            form={form}
            line={written.value}
            showPalettes={showPalettes}
            current={current}
          />
          <SaveLine
            form={form}
            line={written.value}
            tempoBpm={tempoBpm}
            name={drill === null ? `example line ${seed}` : drill.name.toLowerCase()}
          />
        </>
      ) : (
        <p className="notice" role="alert">
          {written.problems.join('\n')}
        </p>
      )}
    </>
  );
}
