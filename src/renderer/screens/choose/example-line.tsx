/** An example line for what is about to be practised: written, heard with click and bass, saved. */

import { useMemo, useState } from 'react';
import type { Form } from '../../../core/chart/index.ts';
import { createBeatClock } from '../../../core/grid/index.ts';
import {
  describeLineProblem,
  RIGHT_HAND_REGISTER,
  takeOfLine,
  writeLine,
} from '../../../core/line/index.ts';
import { lineMeasures, writeScoreMusicXml } from '../../../core/score/index.ts';
import { encodeTakeFile } from '../../../core/take/smf/index.ts';
import { useProgram } from '../../app/program.tsx';
import { fileName, saveMidi, saveMusicXml } from '../../app/save-file.ts';
import { lineScore, mergeScores } from '../../audio/index.ts';
import { CheckField, NumberField, SelectField } from '../../look/fields.tsx';
import { WrittenStaff } from '../../notation/written-staff.tsx';
import { placeInForm } from '../../palette/palette-words.ts';
import type { PracticeChoice } from '../../prepare/practice-choice.ts';
import { accompaniment } from '../../session/accompaniment.ts';
import { useHearing } from '../../session/use-hearing.ts';

interface ExampleLineProps {
  /** The bars that are practised. */
  readonly form: Form;
  readonly choice: PracticeChoice;
  readonly tempoBpm: number;
}

const SHAPES = [
  { value: 0, words: 'plain scales' },
  { value: 0.25, words: 'scales and arpeggios' },
  { value: 0.5, words: 'arpeggios' },
  { value: 1, words: 'wide shapes' },
] as const;

export default function ExampleLine({ form, choice, tempoBpm }: ExampleLineProps) {
  const { settings } = useProgram();
  const [density, setDensity] = useState<number>(SHAPES[0].value);
  const [register, setRegister] = useState(RIGHT_HAND_REGISTER);
  const [seed, setSeed] = useState(1);
  const [isLooping, setLooping] = useState(false);
  const [showPalettes, setShowPalettes] = useState(false);
  const [current, setCurrent] = useState<number | null>(null);
  const { isPlaying, failure, hear, stop } = useHearing();
  const { level, slotsPerBeat, swing } = choice;
  const choruses = isLooping ? LOOPED_CHORUSES : 1;

  const written = useMemo(() => {
    const wish = { level, slotsPerBeat, swing, density, register, seed, startMidi: null };
    return writeLine(form, { ...wish, choruses: 1 });
  }, [form, level, slotsPerBeat, swing, density, register, seed]);

  const lineName = `${fileName(form.title)}-line-${seed}`;

  function start(): void {
    if (!written.ok) return;
    const line = written.value;
    const tempo = { kind: 'steady', tempoBpm } as const;
    const clock = createBeatClock(form, tempo);
    const once = lineScore(line, clock);
    const chorusMs = clock.timeMs(line.beats);
    const notes = Array.from({ length: choruses }, (_, chorus) =>
      once.map((note) => ({ ...note, atMs: note.atMs + chorus * chorusMs })),
    ).flat();
    const band = accompaniment(form, { tempo, choruses, swing }, settings.sound);
    void hear(mergeScores(notes.values(), band), (timeMs) => {
      setCurrent(
        timeMs === null || timeMs < 0 ? null : barAt(form, clock.beatAt(timeMs % chorusMs)),
      );
    });
  }

  return (
    <>
      <div className="row">
        <button type="button" disabled={!written.ok} onClick={() => (isPlaying ? stop() : start())}>
          {isPlaying ? 'Stop' : 'Hear the line'}
        </button>
        <button type="button" onClick={() => setSeed(seed + 1)}>
          Another line
        </button>
        <SelectField label="Shape" value={density} options={SHAPES} onChange={setDensity} />
        <NumberField
          label="Lowest key, MIDI"
          min={21}
          max={register.highestMidi}
          value={register.lowestMidi}
          onChange={(lowestMidi) => setRegister({ ...register, lowestMidi })}
        />
        <NumberField
          label="Highest key, MIDI"
          min={register.lowestMidi}
          max={108}
          value={register.highestMidi}
          onChange={(highestMidi) => setRegister({ ...register, highestMidi })}
        />
        <CheckField label="Again and again" checked={isLooping} onChange={setLooping} />
        <CheckField label="Palettes below" checked={showPalettes} onChange={setShowPalettes} />
        {written.ok && (
          <button
            type="button"
            onClick={() => {
              const take = takeOfLine(written.value, tempoBpm);
              const tempo = { kind: 'steady', tempoBpm } as const;
              const { meter, key, title } = form;
              const name = `${title}, example line`;
              saveMidi(lineName, encodeTakeFile({ take, tempo, meter, key, name }));
            }}
          >
            Save the line as MIDI
          </button>
        )}
        {written.ok && (
          <button
            type="button"
            onClick={() => {
              const measures = lineMeasures(form, written.value);
              const title = `${form.title}, example line`;
              saveMusicXml(lineName, writeScoreMusicXml(form, measures, title, tempoBpm));
            }}
          >
            Save the line as MusicXML
          </button>
        )}
      </div>
      {failure !== null && (
        <p className="notice" role="alert">
          {failure}
        </p>
      )}
      {written.ok ? (
        <WrittenStaff
          form={form}
          line={written.value}
          showPalettes={showPalettes}
          current={current}
        />
      ) : (
        <p className="notice">{written.problems.map(describeLineProblem).join('\n')}</p>
      )}
    </>
  );
}

/** Hours at any tempo: it is stopped by hand. */
const LOOPED_CHORUSES = 100;

/** Index of the bar of the form at a beat of the chorus. */
function barAt(form: Form, beat: number): number {
  const place = placeInForm(form, beat);
  return form.bars.findIndex(({ bar }) => bar === place?.bar);
}
