/** Standard MIDI Files: whatever is read can be written, taken, graded and read again. */

import { z } from 'zod';
import { takeEventSchema, takeTempoSchema } from '../../../shared/bridge/index.ts';
import {
  type GradeSettings,
  gradeTake,
  isGradable,
  slotsOwed,
} from '../../../src/core/grading/index.ts';
import {
  decodeSmf,
  describeSmfProblem,
  encodeSmf,
  encodeVlq,
  type ReadTake,
  type SmfProblem,
  smfFromTake,
  takeFromSmf,
} from '../../../src/core/take/smf/index.ts';
import { LEVELS } from '../../../src/core/words.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import type { Choices } from '../chance.ts';
import { MIDI_FILES } from '../corpus.ts';
import { mutateBytes } from '../mutate.ts';
import { type FuzzTarget, must, type Verdict } from '../target.ts';

const FORM = formFromText('| Cmaj7 Am7 | Dm7 G7 <altered> | N.C. | % |');
const events = z.array(takeEventSchema);

export const smfTarget: FuzzTarget = {
  name: 'midi files',
  share: 380,
  make(choices) {
    const isGrown = choices.oneIn(2);
    const good = isGrown ? grow(choices) : seed(choices);
    const bytes = isGrown && choices.oneIn(2) ? good : mutateBytes(choices, good, SEEDS);
    const startMs = choices.oneIn(4) ? choices.below(1_000_000) - 60_000 : null;
    const settings = {
      level: choices.pick(LEVELS),
      slotsPerBeat: choices.pick([null, 1, 2, 3, 4] as const),
      latencyMs: choices.below(200) - 100,
      splitMidi: choices.oneIn(2) ? null : 55,
      leftHand: choices.oneIn(2),
    };
    return { size: bytes.length, run: () => check(bytes, startMs, settings) };
  },
};

const SEEDS = MIDI_FILES.map((file) => file.subarray(0, 400)).map(withLength);

/** A demo take cut short, with its track's length put right, or whole once in a while. */
function seed(choices: Choices): Uint8Array {
  return choices.pick(choices.oneIn(20) ? MIDI_FILES : SEEDS);
}

function withLength(file: Uint8Array): Uint8Array {
  const out = Uint8Array.from(file);
  new DataView(out.buffer).setUint32(18, out.length - 22);
  return out;
}

/** A file after the grammar of the format, with numbers at its edges. */
function grow(choices: Choices): Uint8Array {
  const out: number[] = [];
  const pushWord = (word: string): void => {
    for (const letter of word) out.push(letter.charCodeAt(0));
  };
  const tracks = choices.below(4);
  const rarity = choices.pick([1, 10, 1000]);
  const division = choices.pick([
    [0, 1],
    [0, 96],
    [0x7f, 0xff],
    [0xe7, 40],
    [0x80, 1],
    [0xe3, 255],
  ]);
  pushWord('MThd');
  out.push(0, 0, 0, 6, 0, choices.below(3), 0, tracks, ...division);
  for (let track = 0; track <= tracks; track++) {
    const body: number[] = [];
    for (let count = choices.below(60); count > 0; count--) body.push(...event(choices, rarity));
    pushWord(choices.oneIn(20) ? 'XTrk' : 'MTrk');
    const length = body.length + (choices.oneIn(20) ? choices.below(9) - 4 : 0);
    out.push(0, 0, (length >> 8) & 255, length & 255, ...body);
  }
  return Uint8Array.from(out);
}

const EDGE_TICKS = [0, 0, 1, 48, 96, 127, 128, 16_383, 2_097_151, 0x0fff_ffff];

/** Once in `rarity` the ticks before it are at an edge. */
function event(choices: Choices, rarity: number): readonly number[] {
  const delta = encodeVlq(choices.oneIn(rarity) ? choices.pick(EDGE_TICKS) : choices.below(100));
  const key = 40 + choices.below(50);
  switch (choices.below(9)) {
    case 0:
      return [
        ...delta,
        0xff,
        0x51,
        3,
        ...choices.pick([
          [0, 0, 0],
          [0, 0, 1],
          [7, 161, 32],
          [255, 255, 255],
        ]),
      ];
    case 1: {
      const length = choices.below(6);
      const bytes = Array.from({ length }, () => choices.below(256));
      return [...delta, 0xff, choices.pick([1, 3, 6, 0x2f, 0x51, 0x58, 0x59]), length, ...bytes];
    }
    case 2:
      return [...delta, choices.pick([0xf0, 0xf7]), 2, choices.below(128), 0xf7];
    case 3:
      return [
        ...delta,
        0xb0 | choices.below(16),
        choices.pick([64, 120, 123, 127]),
        choices.below(128),
      ];
    case 4:
      return [...delta, choices.pick([0xc0, 0xd0]), choices.below(128)];
    case 5:
      return [...delta, 0x80 | choices.below(16), key, 0];
    case 6:
      // Running status.
      return [...delta, 0x90, key, 80, 40, key, 0];
    default:
      return [...delta, 0x90 | choices.pick([0, 0, 0, 9]), key, choices.below(128)];
  }
}

type Settings = Omit<GradeSettings, 'tempo'>;

function check(bytes: Uint8Array, startMs: number | null, settings: Settings): Verdict {
  const file = decodeSmf(bytes);
  if (!file.ok) return refused(file.problems, bytes.length);
  const written = encodeSmf(file.value);
  const again = decodeSmf(written);
  must(again.ok, 'a file we wrote is not read');
  must(
    Buffer.compare(written, encodeSmf(again.value)) === 0,
    'a file changes when it is written again',
  );
  const read = takeFromSmf(file.value, startMs);
  if (!read.ok) return refused(read.problems, bytes.length);
  checkTake(read.value, settings);
  return 'accepted';
}

function refused(problems: readonly SmfProblem[], size: number): Verdict {
  must(problems.length > 0, 'refused without a problem');
  for (const problem of problems) {
    must(problem.byteOffset <= size, 'a problem lies outside the file');
    must(describeSmfProblem(problem).length < 500, 'a sentence is too long to be read');
  }
  return 'refused';
}

function checkTake({ take, tempo }: ReadTake, settings: Settings): void {
  must(events.safeParse(take.events).success, 'events that the bridge would refuse');
  must(takeTempoSchema.safeParse(tempo).success, 'a tempo that the bridge would refuse');
  const complete = { ...settings, tempo };
  // Longer lines cost what they hold; a file of few bytes can ask for many.
  if (!isGradable(FORM, take, complete) || slotsOwed(FORM, take, complete) > 20_000) return;
  const report = gradeTake(FORM, take, complete);
  for (const { nominalMs } of report.slots) must(Number.isFinite(nominalMs), 'a slot at no time');
  const { cleanRate } = report.summary;
  must(cleanRate === null || (cleanRate >= 0 && cleanRate <= 1), 'a rate that is none');
  const saved = decodeSmf(
    encodeSmf(
      smfFromTake({
        take,
        tempo: tempo.points,
        meter: { count: 4, unit: 4 },
        keyFifths: 0,
        minor: false,
        name: 'T',
        texts: [],
      }),
    ),
  );
  must(saved.ok && takeFromSmf(saved.value, null).ok, 'a saved take is not read again');
}
