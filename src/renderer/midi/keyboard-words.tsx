/** Which keyboards are heard, in one sentence, and the layout of the computer's own keys. */

import type { KeyboardsState } from './ports.ts';

export function KeyboardWords({ state }: { readonly state: KeyboardsState | null }) {
  if (state === null) return null;
  // Told aloud as well: whoever plugs a keyboard in wants to know that it is heard.
  return (
    <span className="soft" role="status">
      {words(state)}
    </span>
  );
}

function words(state: KeyboardsState): string {
  if (state.kind === 'missing') return state.sentence;
  return state.names.length === 0
    ? 'No MIDI keyboard yet: plug one in, or play the computer keys.'
    : `Listening to ${state.names.join(', ')} and the computer keys.`;
}
