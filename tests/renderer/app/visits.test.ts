/** Where Back and Forward lead. Own rules, no outside source. */

import { describe, expect, test } from 'vitest';
import type { Screen } from '../../../src/renderer/app/screen.ts';
import { type Step, shownAgain, type Visits, visit } from '../../../src/renderer/app/visits.ts';

const CHOOSE: Screen = { name: 'choose' };
// What is played does not matter here.
const PLAY = { name: 'play', wish: {}, atOnce: true } as Screen;
const review = (takeId: string) => ({ name: 'review', takeId, manner: {} }) as Screen;

/** Goes from screen to screen; what the browser's list had to do at each, and the screens in it. */
function walk(...screens: readonly Screen[]): { readonly steps: Step[]; readonly visits: Visits } {
  let visits: Visits = { screens: [CHOOSE], at: 0 };
  const steps = screens.map((next) => {
    const visited = visit(visits, next);
    visits = visited.visits;
    return visited.step;
  });
  return { steps, visits };
}

describe('a screen shown', () => {
  test('is one more place, and the same one again is not', () => {
    const { steps, visits } = walk({ name: 'today' }, { name: 'today' }, review('a'), review('b'));
    expect(steps).toEqual(['push', 'stay', 'push', 'push']);
    expect(visits).toEqual({
      screens: [CHOOSE, { name: 'today' }, review('a'), review('b')],
      at: 3,
    });
  });

  test('after a run stands in its place, so that Back leads before it', () => {
    const { steps, visits } = walk(PLAY, review('a'), PLAY, review('b'));
    expect(steps).toEqual(['push', 'replace', 'push', 'replace']);
    expect(visits.screens).toEqual([CHOOSE, review('a'), review('b')]);
  });

  test('after a run that was left for where it came from is the place before', () => {
    expect(walk(PLAY, CHOOSE)).toEqual({
      steps: ['push', 'back'],
      visits: { screens: [CHOOSE, PLAY], at: 1 },
    });
  });

  test('after going back takes the place of those that were ahead', () => {
    const { visits } = walk({ name: 'today' }, { name: 'journal' });
    expect(visit({ ...visits, at: 0 }, { name: 'settings' }).visits).toEqual({
      screens: [CHOOSE, { name: 'settings' }],
      at: 1,
    });
  });

  test('again by Forward is a run that is ready, not one that starts by itself', () => {
    expect(shownAgain(PLAY)).toMatchObject({ name: 'play', atOnce: false });
    expect(shownAgain(review('a'))).toEqual(review('a'));
  });
});
