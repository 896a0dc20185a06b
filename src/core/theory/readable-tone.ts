/** Notes as a reader wants to meet them: one accidental at most. */

import { simplifyTone, type Tone } from './tone.ts';

/** The same pitch with one accidental at most, however far out the tone lies; others come back unchanged. */
export function readableTone(tone: Tone): Tone {
  const simple = simplifyTone(tone);
  return simple === tone ? tone : readableTone(simple);
}
