/** Hand-over files: what is read goes into the library whole, and its take is graded there. */

import { HAND_OVER_SCHEMA, type HandOver } from '../../../shared/hand-over.ts';
import { prepareForm } from '../../../src/core/chart/index.ts';
import { gradeTake } from '../../../src/core/grading/index.ts';
import { encodeSmf, smfFromTake } from '../../../src/core/take/smf/index.ts';
import { LEVELS } from '../../../src/core/words.ts';
import { readHandOver, takeHandOver } from '../../../src/renderer/prepare/hand-over.ts';
import { MELODY } from '../../helpers/library.ts';
import { setUpFor } from '../../helpers/set-up.ts';
import type { Choices } from '../chance.ts';
import { CHART_TEXTS, SHORT_CHART_TEXT } from '../corpus.ts';
import { openInMemory } from '../library.ts';
import { mutateBytes, mutateJson, nested } from '../mutate.ts';
import { type FuzzTarget, must, sameJson, type Verdict } from '../target.ts';

export const handOverTarget: FuzzTarget = {
  name: 'hand-over files',
  share: 35,
  make(choices) {
    const good = handOver(choices);
    const data = choices.oneIn(3) ? good : mutateJson(choices, good, 30);
    const text = choices.oneIn(100)
      ? JSON.stringify({ ...good, note: nested(choices, choices.below(6000)) })
      : JSON.stringify(data);
    const bytes = new TextEncoder().encode(text);
    const spoilt = choices.oneIn(6) ? mutateBytes(choices, bytes, [bytes]) : bytes;
    return { size: spoilt.length, run: () => check(spoilt) };
  },
};

function handOver(choices: Choices): HandOver {
  const chart = choices.oneIn(4) ? choices.pick(CHART_TEXTS) : SHORT_CHART_TEXT;
  const tempoBpm = choices.pick([20, 60, 400]);
  const setUp = setUpFor();
  const mapped = {
    kind: 'mapped' as const,
    points: [
      {
        atMs: choices.below(1000),
        atQuarter: 0,
        msPerQuarter: choices.pick([0.001, 1, 500, 16_777]),
      },
      { atMs: 1000 + choices.below(9000), atQuarter: choices.below(20), msPerQuarter: 400 },
    ],
  };
  const events = Array.from({ length: choices.below(12) }, (_, index) => ({
    kind: 'noteOn' as const,
    atMs: choices.oneIn(12)
      ? choices.pick([-1e9, 1e9, 1e6, -3000])
      : index * 250 + choices.below(90),
    midi: 50 + choices.below(30),
    velocity: choices.below(128),
  }));
  const grade = {
    ...setUp.grade,
    level: choices.pick(LEVELS),
    tempo: choices.oneIn(2) ? mapped : setUp.grade.tempo,
    choruses: choices.pick([null, 1, 1000]),
    slotsPerBeat: choices.pick([null, 1, 4] as const),
  };
  return {
    schema: HAND_OVER_SCHEMA,
    title: 'Pier',
    chart,
    melody: choices.oneIn(2) ? null : MELODY,
    assignment: {
      plan: 'plain',
      key: choices.pick([null, 'F', 'Bb']),
      level: choices.pick(LEVELS),
      tempoBpm,
      goalBpm: null,
      bars: choices.oneIn(3) ? { from: 1, to: 1 + choices.below(3) } : null,
      choruses: choices.pick([null, 2]),
    },
    note: 'slowly',
    take: choices.oneIn(3)
      ? null
      : {
          setUp: { ...setUp, grade },
          startedAtMs: choices.oneIn(9) ? choices.pick([-1, 1e300]) : 0,
          endMs: 9000,
          events,
          sources: [{ name: 'Piano', latencyMs: choices.pick([0, 23.5]), splitMidi: null }],
          breaks: choices.oneIn(2) ? [] : [{ fromMs: 900, toMs: choices.pick([900, 1300, 1]) }],
        },
  };
}

async function check(bytes: Uint8Array): Promise<Verdict> {
  const read = readHandOver(bytes);
  if (!read.ok) {
    must(read.problems.length > 0, 'refused without a problem');
    for (const sentence of read.problems) must(sentence.length < 2000, 'a sentence is too long');
    return 'refused';
  }
  const again = readHandOver(new TextEncoder().encode(JSON.stringify(read.value)));
  must(again.ok && sameJson(again.value, read.value), 'a file changes when it is written again');
  const library = openInMemory();
  try {
    const taken = await takeHandOver(library.bridge, read.value);
    if (!taken.ok) {
      must(
        taken.problems.every((words) => !words.includes('went wrong inside')),
        taken.problems.join(),
      );
      return 'refused';
    }
    if (taken.value.takeId === null) return 'accepted';
    const stored = await library.bridge.ask('takes.get', { takeId: taken.value.takeId });
    must(stored.ok, 'a take that was stored is not there');
    const { setUp, events, sources, breaks, row } = stored.value;
    const played = { events, endMs: row.endMs, sources, breaks };
    must(events.length === (read.value.take?.events.length ?? 0), 'events were lost');
    const prepared = prepareForm(setUp.chartText, setUp);
    must(prepared.ok, 'a stored take has lost its chart');
    const { form } = prepared.value;
    JSON.stringify(gradeTake(form, played, setUp.grade));
    const { tempo } = setUp.grade;
    encodeSmf(
      smfFromTake({
        take: played,
        tempo:
          tempo.kind === 'mapped'
            ? tempo.points
            : [{ atMs: 0, atQuarter: 0, msPerQuarter: 60_000 / tempo.tempoBpm }],
        meter: form.meter,
        keyFifths: 0,
        minor: false,
        name: form.title,
        texts: [],
      }),
    );
    return 'accepted';
  } finally {
    library.close();
  }
}
