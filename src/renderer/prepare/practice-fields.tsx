/** Plan, key and level: the same fields for a take to be played and for one that was recorded. */

import { type PreparedForm, planNames } from '../../core/chart/index.ts';
import { LEVELS } from '../../core/words.ts';
import { keysLike, LEVEL_WORDS } from '../app/words.ts';
import { SelectField } from '../look/fields.tsx';
import { withSigns } from '../look/signs.ts';
import type { PracticeChoice } from './practice-choice.ts';

interface PracticeFieldsProps {
  readonly prepared: PreparedForm;
  readonly choice: PracticeChoice;
  readonly onChange: (part: Partial<PracticeChoice>) => void;
}

export function PracticeFields({ prepared, choice, onChange }: PracticeFieldsProps) {
  const { chart, key: keyText } = prepared;
  return (
    <>
      <SelectField
        label="Plan"
        value={choice.plan}
        options={planNames(chart).map((name) => ({ value: name, words: name }))}
        onChange={(plan) => onChange({ plan })}
      />
      <SelectField
        label="Key"
        value={keyText}
        options={keysLike(keyText).map((name) => ({
          value: name,
          words: withSigns(name),
        }))}
        onChange={(key) => onChange({ key })}
      />
      <SelectField
        label="Level"
        value={choice.level}
        options={LEVELS.map((name) => ({ value: name, words: LEVEL_WORDS[name] }))}
        onChange={(level) => onChange({ level })}
      />
    </>
  );
}
