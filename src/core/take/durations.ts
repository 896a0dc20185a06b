/** How long each key was held. Source of the rules: `grading.md`, "From events to a line". */

import { createLongList } from '../long-list.ts';

export interface KeyHold {
  /** A key goes down; if it was sounding already, that note ends here. Returns the note's id, from 0. */
  down(midi: number, atMs: number): number;
  up(midi: number, atMs: number): void;
  allUp(atMs: number): void;
  /** Duration of a note in ms; a note still held counts until `nowMs`. */
  durationMs(noteId: number, nowMs: number): number;
}

const SOUNDING = -1;
const NOT_HELD = -1;

/** Starts keeping track of held keys. Times must not go back. */
export function createKeyHold(): KeyHold {
  const lengthMs = createLongList<number>();
  const heldNote = new Int32Array(128).fill(NOT_HELD);
  const heldSinceMs = new Float64Array(128);

  function release(midi: number, atMs: number): void {
    const noteId = heldNote[midi] ?? NOT_HELD;
    if (noteId === NOT_HELD) return;
    lengthMs.set(noteId, atMs - (heldSinceMs[midi] ?? atMs));
    heldNote[midi] = NOT_HELD;
  }

  return {
    down(midi, atMs) {
      release(midi, atMs);
      const noteId = lengthMs.length;
      lengthMs.push(SOUNDING);
      heldSinceMs[midi] = atMs;
      heldNote[midi] = noteId;
      return noteId;
    },
    up: release,
    allUp(atMs) {
      for (let midi = 0; midi < heldNote.length; midi++) release(midi, atMs);
    },
    durationMs(noteId, nowMs) {
      const length = lengthMs.at(noteId) ?? 0;
      if (length !== SOUNDING) return length;
      return Math.max(0, nowMs - (heldSinceMs[heldNote.indexOf(noteId)] ?? nowMs));
    },
  };
}
