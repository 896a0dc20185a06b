/** Standard MIDI Files in and out. The only door to this folder. */

export { decodeSmf } from './decode.ts';
export { encodeSmf, encodeVlq, LARGEST_VLQ } from './encode.ts';
export {
  LARGEST_SMF_BYTES,
  type SmfDivision,
  type SmfEvent,
  type SmfFile,
  type SmfProblem,
  type SmfProblemCode,
  type SmfTrack,
} from './model.ts';
export type { FileSettings } from './remarks.ts';
export { describeSmfProblem } from './sentences.ts';
export { smfFromTake, type TakeForFile, TICKS_PER_QUARTER } from './smf-from-take.ts';
export { encodeTakeFile, type TakeForMidi } from './take-file.ts';
export { DOWNBEAT_MARKER, type ReadTake, type SmfNotice, takeFromSmf } from './take-from-smf.ts';
