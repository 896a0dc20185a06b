/** Where a line begins: anywhere, or by the key played last, which is listened for only then. */

import { SelectField } from '../../look/fields.tsx';
import { withSigns } from '../../look/signs.ts';
import { keyName } from '../../midi/key-name.ts';
import { KeyboardWords } from '../../midi/keyboard-words.tsx';
import { useKeys } from '../../midi/use-keys.ts';
import { useSoundedKeys } from '../../midi/use-sounded-keys.ts';
import type { Beginning } from '../../prepare/written-example.ts';

const BEGINNINGS: readonly { readonly value: Beginning; readonly words: string }[] = [
  { value: 'anywhere', words: 'anywhere' },
  { value: 'onKey', words: 'on the key played last' },
  { value: 'afterKey', words: 'after the key played last' },
];

interface BeginFieldProps {
  readonly beginning: Beginning;
  /** The key played last, or null. */
  readonly keyMidi: number | null;
  readonly onBeginning: (beginning: Beginning) => void;
  readonly onKey: (midi: number) => void;
}

export function BeginField({ beginning, keyMidi, onBeginning, onKey }: BeginFieldProps) {
  return (
    <>
      <SelectField label="Begins" value={beginning} options={BEGINNINGS} onChange={onBeginning} />
      {beginning !== 'anywhere' && <HeardKey keyMidi={keyMidi} onKey={onKey} />}
    </>
  );
}

function HeardKey({ keyMidi, onKey }: Pick<BeginFieldProps, 'keyMidi' | 'onKey'>) {
  const sound = useSoundedKeys();
  const keyboards = useKeys((key, deviceName) => {
    sound(key, deviceName);
    if (key.kind === 'noteOn') onKey(key.midi);
  });
  return (
    <p className="heard-key">
      <strong role="status">{keyMidi === null ? 'play a key' : withSigns(keyName(keyMidi))}</strong>
      <KeyboardWords state={keyboards} />
    </p>
  );
}
