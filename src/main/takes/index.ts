/** Takes from the first note to their figures. The door to this folder. */

export { gradeStored, uncounted } from './grade-stored.ts';
export { createTakeDesk, type TakeDesk } from './take-desk.ts';
