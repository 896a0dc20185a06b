/** Charts as MusicXML 4.0, in and out. */

export type { MusicXmlNotice, MusicXmlProblem } from './problem.ts';
export { type ReadScore, readMusicXml } from './read-musicxml.ts';
export { describeMusicXmlNotice, describeMusicXmlProblem } from './sentences.ts';
export { LARGEST_SCORE_BYTES } from './unpack.ts';
export { writeMusicXml } from './write-musicxml.ts';
