/** What is written as an example: a line or one of the drills, how it moves, and in which keys. */

import {
  DRILLS,
  type DrillStyle,
  type LineShape,
  type LineStyle,
} from '../../../core/line/index.ts';
import { NumberField, type Option, SelectField } from '../../look/fields.tsx';
import { PIANO_KEYS } from '../../prepare/example-shape.ts';
import type { PracticeChoice } from '../../prepare/practice-choice.ts';

const WRITTEN: readonly Option<DrillStyle | null>[] = [
  { value: null, words: 'line at the level chosen' },
  ...DRILLS.map(({ style, name }) => ({ value: style, words: `drill: ${name.toLowerCase()}` })),
];

const SHAPES: readonly Option<LineShape>[] = [
  { value: 'scales', words: 'plain scales' },
  { value: 'scalesAndArpeggios', words: 'scales and arpeggios' },
  { value: 'arpeggios', words: 'arpeggios' },
  { value: 'wide', words: 'wide shapes' },
];

const STYLES: readonly Option<LineStyle>[] = [
  { value: 'teaching', words: 'for teaching: lands on thirds and sevenths' },
  { value: 'solo', words: 'as solos go' },
];

interface ExampleFieldsProps {
  /** Null: a line. */
  readonly style: DrillStyle | null;
  readonly onStyle: (style: DrillStyle | null) => void;
  readonly choice: PracticeChoice;
  readonly onChange: (part: Partial<PracticeChoice>) => void;
}

export function ExampleFields({ style, onStyle, choice, onChange }: ExampleFieldsProps) {
  const { exampleStyle, exampleShape, exampleRegister: register } = choice;
  return (
    <>
      <SelectField label="Line or drill" value={style} options={WRITTEN} onChange={onStyle} />
      {style === null && (
        <>
          <SelectField
            label="Style"
            value={exampleStyle}
            options={STYLES}
            onChange={(chosen) => onChange({ exampleStyle: chosen })}
          />
          <SelectField
            label="Shape"
            value={exampleShape}
            options={SHAPES}
            onChange={(shape) => onChange({ exampleShape: shape })}
          />
        </>
      )}
      <NumberField
        label="Lowest key, MIDI"
        min={PIANO_KEYS.lowestMidi}
        max={register.highestMidi}
        value={register.lowestMidi}
        onChange={(lowestMidi) => onChange({ exampleRegister: { ...register, lowestMidi } })}
      />
      <NumberField
        label="Highest key, MIDI"
        min={register.lowestMidi}
        max={PIANO_KEYS.highestMidi}
        value={register.highestMidi}
        onChange={(highestMidi) => onChange({ exampleRegister: { ...register, highestMidi } })}
      />
    </>
  );
}
