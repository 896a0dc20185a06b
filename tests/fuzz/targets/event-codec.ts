/** Events as the library stores them: any bytes, and any events the bridge lets in. */

import { takeEventSchema } from '../../../shared/bridge/index.ts';
import { FURTHEST_MS, type TakeEvent } from '../../../src/core/take/model.ts';
import { decodeEvents, encodeEvents } from '../../../src/main/store/event-codec.ts';
import { type Choices, HOSTILE_NUMBERS } from '../chance.ts';
import { mutateBytes } from '../mutate.ts';
import { type FuzzTarget, must, sameJson, type Verdict } from '../target.ts';

export const eventCodecTarget: FuzzTarget = {
  name: 'stored events',
  share: 315,
  make(choices) {
    const events = Array.from({ length: choices.below(12) }, () => anyEvent(choices)).filter(
      (event) => takeEventSchema.safeParse(event).success,
    );
    const bytes = encodeEvents(events);
    if (choices.oneIn(2)) return { size: bytes.length, run: () => thereAndBack(events, bytes) };
    const spoilt = mutateBytes(choices, bytes, [bytes]);
    return { size: spoilt.length, run: () => anyBytes(spoilt) };
  },
};

function anyEvent(choices: Choices): TakeEvent {
  const event = anyKeyEvent(choices);
  return choices.oneIn(3) ? { ...event, source: 1 + choices.below(40) } : event;
}

function anyKeyEvent(choices: Choices): TakeEvent {
  const atMs = choices.oneIn(3)
    ? choices.pick([...HOSTILE_NUMBERS, FURTHEST_MS, -FURTHEST_MS])
    : (choices.below(2_000_000_000) - 1_000_000) / 1000;
  const midi = choices.below(128);
  switch (choices.below(5)) {
    case 0:
      return { kind: 'noteOff', atMs, midi };
    case 1:
      return { kind: 'pedal', atMs, down: choices.oneIn(2) };
    case 2:
      return { kind: 'allOff', atMs, cause: choices.pick(['allNotesOff', 'disconnect'] as const) };
    default:
      return { kind: 'noteOn', atMs, midi, velocity: choices.below(128) };
  }
}

function thereAndBack(events: readonly TakeEvent[], bytes: Uint8Array): Verdict {
  const back = decodeEvents(bytes);
  const rounded = events.map((event) => ({ ...event, atMs: Math.round(event.atMs * 1000) / 1000 }));
  must(back !== null && sameJson(inFields(back), inFields(rounded)), 'events came back changed');
  return 'accepted';
}

/** The fields in one order: what is compared is their values. */
function inFields(events: readonly TakeEvent[]) {
  return events.map((event) =>
    Object.entries(event).sort(([one], [other]) => (one < other ? -1 : 1)),
  );
}

function anyBytes(bytes: Uint8Array): Verdict {
  const events = decodeEvents(bytes);
  if (events === null) return 'refused';
  const again = decodeEvents(encodeEvents(events));
  must(again !== null, 'events that were read cannot be stored again');
  must(sameJson(again, events), 'events change when they are stored again');
  return 'accepted';
}
