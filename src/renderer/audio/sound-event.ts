/** One sound of a performance. Plain data: what is heard is made by the voices, when by the stage. */

export type ClickStrength = 'accent' | 'beat' | 'sub';

/** `atMs` counts from the first downbeat; negative in the count-in. */
export type SoundEvent =
  | { readonly kind: 'click'; readonly atMs: number; readonly strength: ClickStrength }
  | {
      readonly kind: 'bass' | 'pad' | 'note';
      readonly atMs: number;
      readonly midi: number;
      readonly durationMs: number;
      /** 1–127. */
      readonly velocity: number;
    };

/** The parts a player can make louder or softer, each from 0 to 1. */
export interface Volumes {
  readonly click: number;
  readonly bass: number;
  readonly pad: number;
  readonly note: number;
}

/** Joins scores that are each in order of time into one that is. Scores may be endless. */
export function* mergeScores(
  ...scores: readonly Iterator<SoundEvent>[]
): Generator<SoundEvent, void, undefined> {
  const heads = scores.map((score) => ({ score, head: score.next() }));
  for (;;) {
    let earliest: (typeof heads)[number] | null = null;
    let event: SoundEvent | null = null;
    for (const entry of heads) {
      const { head } = entry;
      if (head.done === true || (event !== null && head.value.atMs >= event.atMs)) continue;
      earliest = entry;
      event = head.value;
    }
    if (earliest === null || event === null) return;
    yield event;
    earliest.head = earliest.score.next();
  }
}
