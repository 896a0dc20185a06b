/**
 * Qualities in the spellings people meet most, for suggesting the nearest one. Every row reads.
 * Common practice, no source.
 */
export const COMMON_QUALITIES: readonly string[] = [
  ...['', 'm', 'dim', 'aug', '+', 'sus4', 'sus2', 'sus', '5', 'add9', 'madd9', 'add11', '2'],
  ...['6', 'm6', '6/9', '69', 'm6/9', 'm69', '6add9', '6#11'],
  ...['maj7', 'M7', 'ma7', 'Δ7', 'maj9', 'M9', 'maj13', 'maj7#11', 'maj9#11', 'maj13#11'],
  ...['maj7#5', 'maj7b5', 'maj7sus4', 'maj7(add13)'],
  ...['m7', 'min7', 'mi7', '-7', 'm9', 'm11', 'm13', 'm7b5', 'm9b5', 'm11b5', 'm7#5', 'ø7', 'ø'],
  ...['mMaj7', 'mM7', 'm(maj7)', 'mMaj9', 'dim7', 'o7', '°7', 'dimMaj7'],
  ...['7', '9', '11', '13', '7b5', '7#5', '7+', '+7', 'aug7', '9#5', '9b5', '7alt', 'alt'],
  ...['7b9', '7#9', '7#11', '7b13', '9#11', '9b13', '13b9', '13#9', '13#11'],
  ...['7b9#9', '7b9#11', '7b9b13', '7#9b13', '7b9#5', '7#9#5', '7b5b9', '7b5#9', '7#9#11'],
  ...['13b9#11', '7(b9)', '7(#9)', '7(#11)', '7(b13)', '7(b9,#11)', '7(b9,b13)', '7(#9,#11)'],
  ...['7sus4', '7sus', '9sus4', '9sus', '13sus4', '13sus', '7sus4b9', '7susb9', 'sus4(b9)'],
  ...['7no3', '7no5', 'no3', 'no5'],
];

/** Single parts that may follow a quality, for mending the part that was not understood. */
export const COMMON_PARTS: readonly string[] = [
  '',
  ...['7', '9', '11', '13', 'b5', '#5', 'b9', '#9', '#11', 'b13', 'maj7', 'sus4', 'sus2'],
  ...['add9', 'add11', 'add13', 'no3', 'no5'],
];
