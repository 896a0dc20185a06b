/** Practices and an example as a run has them. */

import type { WrittenLine } from '../../../src/core/line/index.ts';
import type { Following, Practice } from '../../../src/renderer/run/machine.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { setUpFor } from '../../helpers/set-up.ts';

export const FIRST_PRACTICE: Practice = {
  form: formFromText('| Cmaj7 |'),
  setUp: setUpFor(),
  tempoBpm: 60,
};

export const FOLLOWING: Following = {
  practice: { ...FIRST_PRACTICE, tempoBpm: 64 },
  sentence: 'Now at 64.',
};

export const EXAMPLE: WrittenLine = {
  level: 'steps',
  slotsPerBeat: null,
  swing: 1,
  choruses: 1,
  beats: 4,
  notes: [{ slot: 0, midi: 60, name: 'C4', onsetBeats: 0, durationBeats: 0.5, velocity: 80 }],
  rhythm: null,
};
