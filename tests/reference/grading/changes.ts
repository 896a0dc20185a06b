/** "Changes": each boundary read forwards from its slot. */

import { paletteName } from '../../../src/core/theory/palette.ts';
import type { Arrival } from '../../../src/core/words.ts';
import { isChange, isSameSet, type Line, paletteOf, pcsOf, without } from './judge.ts';

export interface ReadChange {
  readonly chord: number;
  readonly slot: number;
  readonly arrival: Arrival;
  readonly bySlots: number | null;
  readonly earlyBy: number;
  readonly provenAt: number | null;
}

/** `unchanged`: "A and B are the same pitch-class set." The very same chord and palette again is no boundary at all. */
function isUnchanged({ played }: Line, chord: number): boolean {
  const from = played.chords[chord - 1]?.chord;
  const to = played.chords[chord]?.chord;
  const [a, b] = [from?.chosen?.palette, to?.chosen?.palette];
  if (!a || !b || !isSameSet(a, b)) return false;
  return from?.symbol?.text !== to?.symbol?.text || paletteName(a) !== paletteName(b);
}

export function readChanges(line: Line, judged: readonly boolean[]): readonly ReadChange[] {
  const { played, entries, notes } = line;
  const last = entries.length - 1;
  const slotOf = (chord: number): number => entries.findIndex((entry) => entry.chord >= chord);
  const pcAt = (index: number): number | null => {
    const note = notes[index] ?? null;
    return note === null ? null : note.midi % 12;
  };
  const reached = played.chords.flatMap((_, chord) =>
    chord > 0 && slotOf(chord) >= 0 ? [chord] : [],
  );
  return reached.flatMap((chord): readonly ReadChange[] => {
    const slot = slotOf(chord);
    const none = { chord, slot, bySlots: null, earlyBy: 0, provenAt: null };
    if (isUnchanged(line, chord)) return [{ ...none, arrival: 'unchanged' }];
    const from = paletteOf(played, chord - 1);
    const to = paletteOf(played, chord);
    if (!isChange(played, chord) || from === null || to === null) return [];
    const onlyNew = without(pcsOf(to), pcsOf(from));
    const onlyOld = without(pcsOf(from), pcsOf(to));
    // "Read the slots from c until the next change"; a stretch without a chord ends it too, which the text leaves open.
    const end = reached.find(
      (later) => later > chord && (isChange(played, later) || paletteOf(played, later) === null),
    );
    const stop = end === undefined ? last + 1 : slotOf(end);
    let lastOld: number | null = null;
    let provenAt: number | null = null;
    for (let index = slot; index < stop && provenAt === null; index++) {
      const pc = pcAt(index);
      if (pc === null) continue;
      if (onlyNew.has(pc)) provenAt = index;
      else if (onlyOld.has(pc)) lastOld = index;
    }
    // "A change is unjudged, and not counted, when one of the slots that decide it is: from the change to its proof, or, where it
    // stayed unproven, to the last slot before the next change."
    const deciding = judged.slice(slot, provenAt === null ? stop : provenAt + 1);
    if (deciding.includes(false)) return [{ ...none, arrival: 'unjudged' }];
    // "How many slots in a row, ending just before c, already hold B-not-A notes": back to the change before at most.
    const before = reached.findLast((earlier) => earlier < chord && isChange(played, earlier));
    const earliest = before === undefined ? 0 : slotOf(before);
    let earlyBy = 0;
    while (slot - 1 - earlyBy >= earliest && onlyNew.has(pcAt(slot - 1 - earlyBy) ?? -1)) earlyBy++;
    // `late`: "a note of A-not-B comes before the first note of B-not-A. `bySlots` = slots from c through the last such note."
    return [
      {
        ...{ chord, slot, earlyBy, provenAt },
        arrival: lastOld !== null ? 'late' : provenAt !== null ? 'onTime' : 'unproven',
        bySlots: lastOld === null ? null : lastOld - slot + 1,
      },
    ];
  });
}
