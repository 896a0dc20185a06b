/** Practices and an example as a run has them. */

import type { Following, Practice } from '../../../src/renderer/run/machine.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { lineOfKeys } from '../../helpers/line-of-keys.ts';
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

export const EXAMPLE = lineOfKeys([60], 'steps', 2);
