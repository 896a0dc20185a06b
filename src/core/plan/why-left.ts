/** Why a rule leaves alone a chord of the kind it is about. */

const CLAUSES = {
  varies: 'nothing follows it, or not the same each time it is played',
  goesElsewhere: 'it does not resolve a fourth up',
  bluesTonic: 'it is the tonic of a blues, and IV does not follow at once',
  nextGivesWay: 'the chord it leads to gives way itself, and the bass would not fall by a semitone',
  notToMajor: 'it does not lead to a major chord',
  notToMinor: 'it does not resolve to a minor chord',
  named: 'its palette is named, and that choice stays',
  playedSo: 'it is played so anyway',
  notHeld: 'the scale lacks one of its tones, or its bass',
  hasSecond: 'its ii stands before it, or may',
  noRoom: 'it has too few beats',
  leadsThere: 'it leads to the next chord by itself',
  noTonic: 'a diminished chord follows, which is no tonic to lead to',
  isSecond: 'it is the ii of the dominant that follows',
  isTonic: 'it is the tonic',
} as const;

export type WhyLeft = keyof typeof CLAUSES;

/** The reason as a clause without capital or stop: `it has too few beats`. */
export function describeLeft(why: WhyLeft): string {
  return CLAUSES[why];
}
