/** Click, bass and chords: the same fields wherever sound is set. */

import { useState } from 'react';
import { CheckField, SelectField, ShareField } from '../look/fields.tsx';
import { formatBarNumbers, parseBarNumbers } from './bar-numbers.ts';
import type { SoundSettings } from './player-settings.ts';

type SilentBars = SoundSettings['silentBars'];

interface SoundFieldsProps {
  readonly sound: SoundSettings;
  readonly onChange: (sound: SoundSettings) => void;
}

const COUNT_INS = [
  { value: 1, words: '1 bar' },
  { value: 2, words: '2 bars' },
] as const;
const CLICKS = [
  { value: 'everyBeat', words: 'on every beat' },
  { value: 'twoAndFour', words: 'on 2 and 4' },
  { value: 'none', words: 'count-in only' },
] as const;
const SUBDIVISIONS = [
  { value: 1, words: 'none' },
  { value: 2, words: 'halves of the beat' },
  { value: 3, words: 'thirds of the beat' },
  { value: 4, words: 'quarters of the beat' },
] as const;
const BASS = [
  { value: 'none', words: 'none' },
  { value: 'root', words: 'roots' },
  { value: 'rootFifth', words: 'root and fifth' },
] as const;

export function SoundFields({ sound, onChange }: SoundFieldsProps) {
  const change = (part: Partial<SoundSettings>): void => onChange({ ...sound, ...part });
  const setVolume = (part: keyof SoundSettings['volumes'], value: number): void =>
    change({ volumes: { ...sound.volumes, [part]: value } });
  return (
    <>
      <div className="row">
        <SelectField
          label="Count-in"
          value={sound.countInBars}
          options={COUNT_INS}
          onChange={(countInBars) => change({ countInBars })}
        />
        <SelectField
          label="Click"
          value={sound.click}
          options={CLICKS}
          onChange={(click) => change({ click })}
        />
        <SelectField
          label="Subdivision"
          value={sound.subdivision}
          options={SUBDIVISIONS}
          onChange={(subdivision) => change({ subdivision })}
        />
        <SilentBarsField
          silentBars={sound.silentBars}
          onChange={(silentBars) => change({ silentBars })}
        />
        <CheckField
          label="Accent on 1"
          checked={sound.accent}
          onChange={(accent) => change({ accent })}
        />
      </div>
      <div className="row">
        <SelectField
          label="Bass"
          value={sound.bass}
          options={BASS}
          onChange={(bass) => change({ bass })}
        />
        <CheckField label="Chord pad" checked={sound.pad} onChange={(pad) => change({ pad })} />
        <ShareField
          label="Click volume"
          value={sound.volumes.click}
          onChange={(value) => setVolume('click', value)}
        />
        <ShareField
          label="Bass volume"
          value={sound.volumes.bass}
          onChange={(value) => setVolume('bass', value)}
        />
        <ShareField
          label="Pad volume"
          value={sound.volumes.pad}
          onChange={(value) => setVolume('pad', value)}
        />
        <ShareField
          label="Line volume"
          value={sound.volumes.note}
          onChange={(value) => setVolume('note', value)}
        />
      </div>
    </>
  );
}

/** A few patterns, and bars of the player's own. */
const PATTERNS: readonly {
  readonly value: string;
  readonly words: string;
  readonly bars: SilentBars;
}[] = [
  { value: 'none', words: 'none', bars: { kind: 'none' } },
  { value: 'other', words: 'every other bar', bars: { kind: 'alternate', sounding: 1, silent: 1 } },
  {
    value: 'fourth',
    words: 'every fourth bar',
    bars: { kind: 'alternate', sounding: 3, silent: 1 },
  },
  { value: 'two', words: 'two of four bars', bars: { kind: 'alternate', sounding: 2, silent: 2 } },
  {
    value: 'four',
    words: 'four of eight bars',
    bars: { kind: 'alternate', sounding: 4, silent: 4 },
  },
  { value: 'chosen', words: 'bars I choose', bars: { kind: 'chosen', bars: [] } },
];

interface SilentBarsFieldProps {
  readonly silentBars: SilentBars;
  readonly onChange: (silentBars: SilentBars) => void;
}

function SilentBarsField({ silentBars, onChange }: SilentBarsFieldProps) {
  const [typed, setTyped] = useState<string | null>(null);
  const pattern =
    PATTERNS.find(({ bars }) => JSON.stringify(bars) === JSON.stringify(silentBars))?.value ??
    'chosen';
  const isWrong = typed !== null && parseBarNumbers(typed) === null;
  return (
    <>
      <SelectField
        label="Silent bars"
        value={pattern}
        options={PATTERNS}
        onChange={(value) => {
          const bars = PATTERNS.find((known) => known.value === value)?.bars;
          if (bars !== undefined) onChange(bars);
        }}
      />
      {silentBars.kind === 'chosen' && (
        <label className="field">
          Bars that fall silent, as 3-4, 7
          <input
            type="text"
            value={typed ?? formatBarNumbers(silentBars.bars)}
            aria-invalid={isWrong}
            onChange={(event) => {
              setTyped(event.target.value);
              const bars = parseBarNumbers(event.target.value);
              if (bars !== null) onChange({ kind: 'chosen', bars: [...bars] });
            }}
            onBlur={() => setTyped(null)}
          />
        </label>
      )}
    </>
  );
}
