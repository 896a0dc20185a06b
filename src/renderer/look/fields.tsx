/** The fields of every form: a label, a control, and what is wrong with what was typed. */

import { type ReactNode, useId, useState } from 'react';

export interface Option<Value> {
  readonly value: Value;
  readonly words: string;
}

interface SelectFieldProps<Value> {
  readonly label: string;
  readonly value: Value;
  readonly options: readonly Option<Value>[];
  readonly disabled?: boolean;
  readonly onChange: (value: Value) => void;
}

/** One of a few values; they may be of any kind, told apart by their place in the list. */
export function SelectField<Value>(props: SelectFieldProps<Value>) {
  const { label, value, options, disabled = false, onChange } = props;
  const chosen = options.findIndex((option) => option.value === value);
  return (
    <label className="field">
      {label}
      <select
        value={chosen}
        disabled={disabled}
        onChange={(event) => {
          const option = options[Number(event.target.value)];
          if (option !== undefined) onChange(option.value);
        }}
      >
        {options.map(({ words }, index) => (
          <option key={words} value={index}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}

interface NumberFieldProps {
  readonly label: string;
  readonly value: number;
  readonly min: number;
  readonly max: number;
  readonly step?: number;
  readonly disabled?: boolean;
  readonly onChange: (value: number) => void;
}

/** A number within limits. What is typed is taken once it is one, and until then said to be none. */
export function NumberField(props: NumberFieldProps) {
  const { label, value, min, max, step = 1, disabled = false, onChange } = props;
  const [typed, setTyped] = useState<string | null>(null);
  const problemId = useId();
  const isWrong = typed !== null && !isWithin(typed, min, max);
  return (
    <label className="field">
      {label}
      <input
        type="number"
        min={min}
        max={max}
        step={step}
        disabled={disabled}
        value={typed ?? value}
        aria-invalid={isWrong}
        aria-describedby={isWrong ? problemId : undefined}
        onChange={(event) => {
          setTyped(event.target.value);
          if (isWithin(event.target.value, min, max)) onChange(Number(event.target.value));
        }}
        onBlur={() => setTyped(null)}
      />
      {isWrong && (
        <span id={problemId} className="field-problem">
          {min} to {max}
        </span>
      )}
    </label>
  );
}

function isWithin(text: string, min: number, max: number): boolean {
  const value = Number(text);
  return text.trim() !== '' && value >= min && value <= max;
}

interface CheckFieldProps {
  readonly label: ReactNode;
  readonly checked: boolean;
  readonly disabled?: boolean;
  readonly onChange: (checked: boolean) => void;
}

export function CheckField({ label, checked, disabled = false, onChange }: CheckFieldProps) {
  return (
    <label className="check-field">
      <input
        type="checkbox"
        checked={checked}
        disabled={disabled}
        onChange={(event) => onChange(event.target.checked)}
      />
      {label}
    </label>
  );
}

interface ShareFieldProps {
  readonly label: string;
  /** 0 to 1. */
  readonly value: number;
  readonly onChange: (value: number) => void;
}

/** A share from none to all, on a slider that says it in per cent. */
export function ShareField({ label, value, onChange }: ShareFieldProps) {
  return (
    <label className="field">
      {label} {Math.round(value * 100)} %
      <input
        type="range"
        min={0}
        max={100}
        step={5}
        value={Math.round(value * 100)}
        onChange={(event) => onChange(Number(event.target.value) / 100)}
      />
    </label>
  );
}
