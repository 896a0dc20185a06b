/**
 * From key-downs to strikes: onsets within 30 ms of one another are one strike, of which the loudest is the
 * line's note. Source of the window: `grading.md`, "From events to a line".
 */

/** Onsets this close together are one strike; exactly at the window still belongs. */
export const STRIKE_WINDOW_MS = 30;

/** One key-down. `noteId` counts the key-downs of the take, so that a later key-up can find its note. */
export interface Onset {
  readonly midi: number;
  readonly onsetMs: number;
  readonly velocity: number;
  readonly noteId: number;
  /** Index of its source among those of the take. */
  readonly source: number;
}

/** The line's note of a strike, and the keys that went down with it. */
export interface Strike extends Onset {
  readonly doubles: readonly Onset[];
}

const NO_DOUBLES: readonly Onset[] = Object.freeze([]);

/** A strike of one key. */
export function strikeOf(
  midi: number,
  velocity: number,
  onsetMs: number,
  noteId: number,
  source = 0,
): Strike {
  return { midi, onsetMs, velocity, noteId, source, doubles: NO_DOUBLES };
}

export interface StrikeCollector {
  /** Takes the next key-down, in order of time; passes the strike before it on when that is complete. */
  add(key: Strike): void;
  /** Every key-down before this time has been added: a strike that can no longer grow is passed on. */
  advance(timeMs: number): void;
  /** Passes on what is left. */
  end(): void;
  /** No strike yet to be passed on has its note before this time; `timeMs` when none is open. */
  openSince(timeMs: number): number;
}

/**
 * Groups key-downs into strikes and passes each on once, in order of time. A strike takes keys up to 30 ms after
 * its first one; in a tie of loudness the highest key is the line's note.
 */
export function createStrikeCollector(emit: (strike: Strike) => void): StrikeCollector {
  let first: Strike | null = null;
  let more: Strike[] | null = null;

  function close(): void {
    if (first === null) return;
    const strike = more === null ? first : chooseLoudest([first, ...more]);
    first = null;
    more = null;
    emit(strike);
  }

  return {
    add(key) {
      if (first !== null && key.onsetMs - first.onsetMs > STRIKE_WINDOW_MS) close();
      if (first === null) first = key;
      else if (more === null) more = [key];
      else more.push(key);
    },
    advance(timeMs) {
      if (first !== null && timeMs - first.onsetMs > STRIKE_WINDOW_MS) close();
    },
    end: close,
    openSince: (timeMs) => (first === null ? timeMs : first.onsetMs),
  };
}

function chooseLoudest(keys: readonly Strike[]): Strike {
  const line = keys.reduce((best, key) =>
    key.velocity > best.velocity || (key.velocity === best.velocity && key.midi > best.midi)
      ? key
      : best,
  );
  return { ...line, doubles: keys.filter((key) => key !== line) };
}
