import { describe, expect, it } from 'vitest';
import { barsOf, chartOf, contentOf, problemsOf, textOf } from './reading.ts';

// Rows of `chart-text.md`, "Bars", where chords share the beats, and, by the same rule, the meters it does not list.
const SHARED: readonly (readonly [meter: string, bar: string, expected: string])[] = [
  ['4/4', 'C', 'C@1+4'],
  ['4/4', 'C F', 'C@1+2 F@3+2'],
  ['4/4', 'C F G', 'C@1+2 F@3+1 G@4+1'],
  ['4/4', 'C F G A', 'C@1+1 F@2+1 G@3+1 A@4+1'],
  ['4/4', 'Bb6 / / F7', 'Bb6@1+3 F7@4+1'],
  ['4/4', 'C / / /', 'C@1+4'],
  ['4/4', 'C F / G', 'C@1+1 F@2+2 G@4+1'],
  ['3/4', 'C F', 'C@1+2 F@3+1'],
  ['3/4', 'C F G', 'C@1+1 F@2+1 G@3+1'],
  ['3/4', 'C / F', 'C@1+2 F@3+1'],
  ['3/4', 'C F /', 'C@1+1 F@2+2'],
  ['5/4', 'C F', 'C@1+3 F@4+2'],
  ['5/4', 'C F G', 'C@1+2 F@3+2 G@5+1'],
  ['7/4', 'C F', 'C@1+4 F@5+3'],
  ['2/4', 'C F', 'C@1+1 F@2+1'],
  ['6/4', 'C F G A', 'C@1+2 F@3+2 G@5+1 A@6+1'],
  ['6/8', 'C', 'C@1+2'],
  ['6/8', 'C F', 'C@1+1 F@2+1'],
  ['9/8', 'C F', 'C@1+2 F@3+1'],
  ['12/8', 'C / / F', 'C@1+3 F@4+1'],
  ['4/4', 'N.C.', 'N.C.@1+4'],
  ['4/4', 'N.C. / F7 /', 'N.C.@1+2 F7@3+2'],
];

describe('chords share the beats of their bar', () => {
  it.each(SHARED)('%s | %s |', (meter, bar, expected) => {
    const [only] = barsOf(chartOf(textOf(`| ${bar} |`, meter)));
    expect(contentOf(only)).toBe(expected);
  });
});

const REFUSED: readonly (readonly [meter: string, bar: string, problem: string])[] = [
  ['4/4', 'C F G A B', 'beatsDoNotFit 4:3'],
  ['4/4', 'C / F', 'beatsDoNotFit 4:3'],
  ['4/4', 'C /', 'beatsDoNotFit 4:3'],
  ['4/4', 'C / / / /', 'beatsDoNotFit 4:3'],
  ['3/4', 'C F G A', 'beatsDoNotFit 4:3'],
  ['6/8', 'C F G', 'beatsDoNotFit 4:3'],
  ['4/4', '/ C F G', 'holdWithoutChord 4:3'],
  ['4/4', '/ / / /', 'holdWithoutChord 4:3'],
];

describe('anything else is an error that says so', () => {
  it.each(REFUSED)('%s | %s |', (meter, bar, problem) => {
    expect(problemsOf(textOf(`| ${bar} |`, meter))).toEqual([problem]);
  });
});
