/** Who puts moments on the page is given the present one at once and each that follows, until it stops. Own words. */

import { expect, test } from 'vitest';
import { type Moment, momentAt } from '../../../src/renderer/screens/play/moment.ts';
import { createShownMoment } from '../../../src/renderer/screens/play/shown-moment.ts';
import { bar, C_DORIAN, C_IONIAN, formOf } from '../../helpers/hand-made.ts';

function momentOf(beat: number | null): Moment {
  const moment = momentAt(formOf([bar(C_IONIAN), bar(C_DORIAN)]), beat);
  if (moment === null) throw new Error('a form with bars');
  return moment;
}

test('each is given what is shown now and what follows, until it stops', () => {
  const [resting, first, second] = [momentOf(null), momentOf(0), momentOf(4)];
  const moments = createShownMoment(resting);
  const early: Moment[] = [];
  const late: Moment[] = [];
  const ignore = moments.watch((moment) => early.push(moment));
  moments.show(first);
  moments.watch((moment) => late.push(moment));
  ignore();
  moments.show(second);
  expect(early).toEqual([resting, first]);
  expect(late).toEqual([first, second]);
});
