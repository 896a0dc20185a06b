/**
 * The scale catalogue. One row per scale: its name, its degrees above the root, other names in use.
 * Degrees count in the major scale; a seven-note scale uses each number once, so that every letter comes once. Scales
 * with more or fewer notes repeat or skip numbers as the trade writes them.
 *
 * Sources of names: M. Sabatella, A Jazz Improvisation Primer, 1992–96, Chord/Scale Chart; D. Terefenko, Jazz Theory, 2014,
 * chapter 8, list of scale categories. Of degrees: OnMusic Dictionary, appendix "Modern Scale Construction" (the minor scales,
 * whole tone, half-whole diminished); M. Sabatella, Almanac, who names D. Baker (bebop dominant and bebop major). The rest, the
 * names of the harmonic-major modes among it: common practice, no source. The modes are checked against rotations of their
 * parents in tests.
 */

/** A row of the catalogue: name, degrees rising, other names; degrees falling where they differ. */
export interface ScaleRow {
  readonly name: string;
  readonly degrees: string;
  readonly falling?: string;
  readonly aliases?: readonly string[];
}

const MAJOR_MODES: readonly ScaleRow[] = [
  { name: 'ionian', degrees: '1 2 3 4 5 6 7', aliases: ['major'] },
  { name: 'dorian', degrees: '1 2 b3 4 5 6 b7' },
  { name: 'phrygian', degrees: '1 b2 b3 4 5 b6 b7' },
  { name: 'lydian', degrees: '1 2 3 #4 5 6 7' },
  { name: 'mixolydian', degrees: '1 2 3 4 5 6 b7', aliases: ['dominant'] },
  {
    name: 'aeolian',
    degrees: '1 2 b3 4 5 b6 b7',
    aliases: ['natural minor', 'minor', 'pure minor'],
  },
  { name: 'locrian', degrees: '1 b2 b3 4 b5 b6 b7' },
];

const MELODIC_MINOR_MODES: readonly ScaleRow[] = [
  {
    name: 'melodic minor',
    degrees: '1 2 b3 4 5 6 7',
    aliases: ['jazz minor', 'jazz melodic minor', 'ascending melodic minor'],
  },
  {
    name: 'dorian b2',
    degrees: '1 b2 b3 4 5 6 b7',
    aliases: ['phrygian #6', 'phrygian natural 6', 'phrygian 6', 'dorian b9'],
  },
  { name: 'lydian augmented', degrees: '1 2 3 #4 #5 6 7', aliases: ['lydian #5'] },
  {
    name: 'lydian dominant',
    degrees: '1 2 3 #4 5 6 b7',
    aliases: ['lydian b7', 'mixolydian #11', 'mixolydian #4', 'acoustic', 'overtone'],
  },
  {
    name: 'mixolydian b6',
    degrees: '1 2 3 4 5 b6 b7',
    aliases: ['mixolydian b13', 'aeolian dominant', 'hindu', 'melodic major'],
  },
  {
    name: 'locrian natural 2',
    degrees: '1 2 b3 4 b5 b6 b7',
    aliases: ['locrian #2', 'locrian 2', 'locrian natural 9', 'half-diminished', 'aeolian b5'],
  },
  {
    name: 'altered',
    degrees: '1 b2 b3 b4 b5 b6 b7',
    aliases: ['super locrian', 'diminished whole tone', 'altered dominant', 'alt'],
  },
];

const HARMONIC_MINOR_MODES: readonly ScaleRow[] = [
  { name: 'harmonic minor', degrees: '1 2 b3 4 5 b6 7', aliases: ['aeolian natural 7'] },
  {
    name: 'locrian natural 6',
    degrees: '1 b2 b3 4 b5 6 b7',
    aliases: ['locrian #6', 'locrian 6', 'locrian natural 13'],
  },
  { name: 'ionian #5', degrees: '1 2 3 4 #5 6 7', aliases: ['ionian augmented', 'major #5'] },
  {
    name: 'dorian #4',
    degrees: '1 2 b3 #4 5 6 b7',
    aliases: ['dorian #11', 'ukrainian dorian', 'romanian minor'],
  },
  {
    name: 'phrygian dominant',
    degrees: '1 b2 3 4 5 b6 b7',
    aliases: [
      'mixolydian b9 b13',
      'mixolydian b2 b6',
      'phrygian natural 3',
      'phrygian #3',
      'phrygian major',
      'spanish phrygian',
      'freygish',
    ],
  },
  { name: 'lydian #2', degrees: '1 #2 3 #4 5 6 7', aliases: ['lydian #9'] },
  {
    name: 'altered bb7',
    degrees: '1 b2 b3 b4 b5 b6 bb7',
    aliases: ['super locrian bb7', 'altered diminished', 'ultralocrian'],
  },
];

const HARMONIC_MAJOR_MODES: readonly ScaleRow[] = [
  { name: 'harmonic major', degrees: '1 2 3 4 5 b6 7', aliases: ['ionian b6', 'major b6'] },
  { name: 'dorian b5', degrees: '1 2 b3 4 b5 6 b7', aliases: ['locrian natural 2 natural 6'] },
  { name: 'phrygian b4', degrees: '1 b2 b3 b4 5 b6 b7', aliases: ['altered natural 5'] },
  { name: 'lydian b3', degrees: '1 2 b3 #4 5 6 7', aliases: ['melodic minor #4'] },
  {
    name: 'mixolydian b2',
    degrees: '1 b2 3 4 5 6 b7',
    aliases: ['mixolydian b9', 'harmonic major dominant'],
  },
  {
    name: 'lydian augmented #2',
    degrees: '1 #2 3 #4 #5 6 7',
    aliases: ['lydian #2 #5'],
  },
  { name: 'locrian bb7', degrees: '1 b2 b3 4 b5 b6 bb7', aliases: ['locrian diminished'] },
];

const SYMMETRICAL: readonly ScaleRow[] = [
  {
    name: 'whole-half diminished',
    degrees: '1 2 b3 4 b5 b6 6 7',
    aliases: ['diminished', 'whole-half', 'diminished whole-half'],
  },
  {
    name: 'half-whole diminished',
    degrees: '1 b2 b3 3 #4 5 6 b7',
    aliases: ['half-whole', 'dominant diminished', 'diminished half-whole', 'octatonic'],
  },
  { name: 'whole tone', degrees: '1 2 3 #4 #5 b7', aliases: ['whole-tone'] },
  {
    name: 'augmented',
    degrees: '1 #2 3 5 #5 7',
    aliases: ['augmented hexatonic', 'hexatonic augmented'],
  },
  { name: 'chromatic', degrees: '1 b2 2 b3 3 4 #4 5 b6 6 b7 7' },
];

const BEBOP: readonly ScaleRow[] = [
  {
    name: 'bebop dominant',
    degrees: '1 2 3 4 5 6 b7 7',
    aliases: ['bebop', 'bebop mixolydian', 'dominant bebop'],
  },
  { name: 'bebop major', degrees: '1 2 3 4 5 #5 6 7', aliases: ['major bebop', 'bebop ionian'] },
  {
    name: 'bebop dorian',
    degrees: '1 2 b3 3 4 5 6 b7',
    aliases: ['bebop minor', 'bebop dorian natural 3'],
  },
  {
    name: 'bebop dorian natural 7',
    degrees: '1 2 b3 4 5 6 b7 7',
    aliases: ['bebop dorian #7', 'bebop dorian major 7', 'bebop dorian 7'],
  },
  {
    name: 'bebop melodic minor',
    degrees: '1 2 b3 4 5 #5 6 7',
    aliases: ['melodic minor bebop', 'bebop minor 6'],
  },
];

const SHORT: readonly ScaleRow[] = [
  { name: 'major pentatonic', degrees: '1 2 3 5 6', aliases: ['pentatonic'] },
  { name: 'minor pentatonic', degrees: '1 b3 4 5 b7', aliases: ['pentatonic minor'] },
  { name: 'blues', degrees: '1 b3 4 b5 5 b7', aliases: ['minor blues', 'blues minor'] },
  { name: 'major blues', degrees: '1 2 b3 3 5 6', aliases: ['blues major'] },
];

const TWO_WAY: readonly ScaleRow[] = [
  {
    name: 'melodic minor up and down',
    degrees: '1 2 b3 4 5 6 7',
    falling: '1 2 b3 4 5 b6 b7',
    aliases: ['classical melodic minor', 'melodic minor classical', 'traditional melodic minor'],
  },
];

/** The modes of the four seven-note parents, each list in the order of its parent's degrees. */
export const MODE_FAMILIES: readonly (readonly ScaleRow[])[] = [
  MAJOR_MODES,
  MELODIC_MINOR_MODES,
  HARMONIC_MINOR_MODES,
  HARMONIC_MAJOR_MODES,
];

export const SCALE_ROWS: readonly ScaleRow[] = [
  ...MODE_FAMILIES.flat(),
  ...SYMMETRICAL,
  ...BEBOP,
  ...SHORT,
  ...TWO_WAY,
];
