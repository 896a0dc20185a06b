/**
 * How a scale sounds beside the proposed one. Means on the line of fifths worked by hand; that sharper is brighter is
 * common practice, the mean our own measure.
 */

import { expect, test } from 'vitest';
import { paletteColour } from '../../../src/core/theory/choice/colour.ts';
import { findScale } from '../../../src/core/theory/index.ts';

function colourOf(name: string, proposed: string): string {
  const [own, other] = [findScale(name), findScale(proposed)];
  if (own === null || other === null) throw new Error(`${name}, ${proposed}`);
  return paletteColour(own, other);
}

test.each([
  // One holds the other.
  ['major pentatonic', 'ionian', 'inside'],
  ['bebop dominant', 'mixolydian', 'inside'],
  // One note higher or lower.
  ['lydian', 'ionian', 'brighter'],
  ['ionian', 'lydian', 'darker'],
  // By the mean, not the sum: bebop major 22/8, lydian 21/7.
  ['bebop major', 'lydian', 'darker'],
  // The altered and the symmetrical scales.
  ['altered', 'mixolydian', 'tension'],
  ['altered bb7', 'whole-half diminished', 'tension'],
  ['half-whole diminished', 'mixolydian', 'tension'],
  ['whole-half diminished', 'locrian natural 6', 'tension'],
  ['whole tone', 'mixolydian', 'tension'],
  ['augmented', 'lydian augmented', 'tension'],
])('%s beside %s is %s', (name, proposed, colour) => {
  expect(colourOf(name, proposed)).toBe(colour);
});
