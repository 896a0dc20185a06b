/** Which keyboards are heard, in one sentence, and the layout of the computer's own keys. */

import type { KeyboardsState } from './keyboards.ts';

export function KeyboardWords({ state }: { readonly state: KeyboardsState | null }) {
  if (state === null) return null;
  if (state.kind === 'missing') return <span className="soft">{state.sentence}</span>;
  return (
    <span className="soft">
      {state.names.length === 0
        ? 'No MIDI keyboard yet: plug one in, or play the computer keys.'
        : `Listening to ${state.names.join(', ')} and the computer keys.`}
    </span>
  );
}
