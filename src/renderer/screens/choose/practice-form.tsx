/** Plan, key, level, tempo, bars, choruses: what is practised, and the button that starts it. */

import type { PreparedForm } from '../../../core/chart/index.ts';
import { completeSettings } from '../../../core/grading/index.ts';
import type { KeyCycle } from '../../../core/plan/index.ts';
import { ALLOWANCES, SLOTS_PER_BEAT, type SlotsPerBeat } from '../../../core/words.ts';
import { CAUTION } from '../../app/words.ts';
import { CheckField, NumberField, SelectField } from '../../look/fields.tsx';
import { type HeardFirst, type PracticeChoice, tempoOf } from '../../prepare/practice-choice.ts';
import { PracticeFields } from '../../prepare/practice-fields.tsx';

interface PracticeFormProps {
  /** The whole form, whatever range of bars is chosen. */
  readonly prepared: PreparedForm;
  readonly choice: PracticeChoice;
  readonly onChange: (choice: PracticeChoice) => void;
  readonly onPlay: () => void;
}

export function PracticeForm(props: PracticeFormProps) {
  const { prepared, choice, onChange, onPlay } = props;
  const change = (part: Partial<PracticeChoice>): void => onChange({ ...choice, ...part });
  return (
    <form
      className="preparation"
      onSubmit={(event) => {
        event.preventDefault();
        onPlay();
      }}
    >
      <div className="row">
        <PracticeFields prepared={prepared} choice={choice} onChange={change} />
        <NumberField
          label="Tempo"
          min={30}
          max={300}
          value={tempoOf(prepared, choice)}
          onChange={(tempo) => change({ tempoBpm: tempo })}
        />
        <button type="submit" className="main">
          Play
        </button>
      </div>
      <Length choice={choice} change={change} barsInForm={prepared.form.bars.length} />
      <p className="soft caution">{CAUTION}</p>
      <Rules choice={choice} change={change} />
    </form>
  );
}

interface PartProps {
  readonly choice: PracticeChoice;
  readonly change: (part: Partial<PracticeChoice>) => void;
}

function Length({ choice, change, barsInForm }: PartProps & { readonly barsInForm: number }) {
  const bars = choice.bars ?? { from: 1, to: barsInForm };
  function setBars(from: number, to: number): void {
    const isWhole = from === 1 && to === barsInForm;
    change({ bars: isWhole ? null : { from, to: Math.max(from, to) } });
  }
  return (
    <div className="row">
      <NumberField
        label="From bar"
        min={1}
        max={barsInForm}
        value={bars.from}
        onChange={(from) => setBars(from, bars.to)}
      />
      <NumberField
        label="to bar"
        min={bars.from}
        max={barsInForm}
        value={bars.to}
        onChange={(to) => setBars(bars.from, to)}
      />
      <NumberField
        label="Choruses"
        min={1}
        max={200}
        value={choice.choruses ?? 2}
        disabled={choice.choruses === null}
        onChange={(choruses) => change({ choruses })}
      />
      <CheckField
        label="Endless"
        checked={choice.choruses === null}
        onChange={(endless) => change({ choruses: endless ? null : 2 })}
      />
      <SelectField
        label="Keys"
        value={choice.keyCycle}
        options={KEY_ORDERS}
        onChange={(keyCycle) => change({ keyCycle })}
      />
      <SelectField
        label="Before each take"
        value={choice.heardFirst}
        options={HEARD}
        disabled={choice.choruses === null}
        onChange={(heardFirst) => change({ heardFirst })}
      />
      <CheckField
        label="Let the tempo follow the line"
        checked={choice.nudge}
        disabled={choice.choruses !== null}
        onChange={(nudge) => change({ nudge })}
      />
    </div>
  );
}

const KEY_ORDERS: readonly { readonly value: KeyCycle | null; readonly words: string }[] = [
  { value: null, words: 'stay in this key' },
  { value: 'fourths', words: 'go on in fourths' },
  { value: 'fifths', words: 'go on in fifths' },
  { value: 'semitonesUp', words: 'go up in semitones' },
  { value: 'semitonesDown', words: 'go down in semitones' },
  { value: 'wholeTones', words: 'go up in whole tones' },
  { value: 'minorThirds', words: 'go up in minor thirds' },
  { value: 'random', words: 'any order, each key once' },
];

const HEARD: readonly { readonly value: HeardFirst; readonly words: string }[] = [
  { value: 'nothing', words: 'only the count-in' },
  { value: 'toAnswer', words: 'hear a line, answer with your own' },
  { value: 'toPlayBack', words: 'hear a line, play the very same' },
];

const GRIDS: readonly { readonly value: SlotsPerBeat | null; readonly words: string }[] = [
  { value: null, words: 'eighth notes' },
  ...SLOTS_PER_BEAT.map((value) => ({ value, words: `${value} to the beat` })),
];

const RULES = [
  { name: 'approach', words: 'Chromatic approach' },
  { name: 'repeats', words: 'Repeated pitch' },
  { name: 'lineUp', words: 'Line-up at a change' },
  { name: 'anticipation', words: 'Anticipation' },
] as const;

/** The grid and the rules, as the level has them unless the player says otherwise. */
function Rules({ choice, change }: PartProps) {
  const usual = completeSettings({ level: choice.level, tempo: { kind: 'steady', tempoBpm: 60 } });
  return (
    <details>
      <summary>Grid and rules</summary>
      <div className="row">
        <SelectField
          label="Slots"
          value={choice.slotsPerBeat}
          options={GRIDS}
          onChange={(slotsPerBeat) => change({ slotsPerBeat })}
        />
        <NumberField
          label="Swing, long : 1"
          min={1}
          max={4}
          step={0.1}
          value={choice.swing}
          onChange={(swing) => change({ swing })}
        />
        <CheckField
          label="Own tolerance"
          checked={choice.toleranceMs !== null}
          onChange={(own) => change({ toleranceMs: own ? 50 : null })}
        />
        {choice.toleranceMs !== null && (
          <NumberField
            label="Tolerance, ms"
            min={5}
            max={500}
            value={choice.toleranceMs}
            onChange={(toleranceMs) => change({ toleranceMs })}
          />
        )}
      </div>
      <div className="row">
        {RULES.map(({ name, words }) => (
          <SelectField
            key={name}
            label={words}
            value={choice[name]}
            options={[
              { value: null, words: `as the level: ${usual[name]}` },
              ...ALLOWANCES.map((value) => ({ value, words: value })),
            ]}
            onChange={(value) => change({ [name]: value })}
          />
        ))}
        <CheckField
          label="Check the left hand’s bass notes (needs a split, set under Settings)"
          checked={choice.leftHand}
          onChange={(leftHand) => change({ leftHand })}
        />
      </div>
    </details>
  );
}
