/** Calls of the bridge as any page could make them: each is answered by its schema, or refused with a word we know. */

import { CALLS, type CallName, refusalSchema } from '../../../shared/bridge/index.ts';
import { tellRefusal } from '../../../shared/refusal-words.ts';
import { MELODY } from '../../helpers/library.ts';
import { setUpFor } from '../../helpers/set-up.ts';
import { type Choices, HOSTILE_TEXTS } from '../chance.ts';
import { openInMemory } from '../library.ts';
import { mutateJson, nested } from '../mutate.ts';
import { type FuzzTarget, must, type Verdict } from '../target.ts';

const NAMES = Object.keys(CALLS) as readonly CallName[];

export const bridgeTarget: FuzzTarget = {
  name: 'calls of the bridge, eight to a library',
  share: 20,
  make(choices) {
    const calls = Array.from({ length: 8 }, () => anyCall(choices));
    const size = calls.reduce((sum, call) => sum + call.request('').length, 0);
    return { size, run: () => check(calls) };
  },
};

interface Call {
  readonly name: string;
  /** As JSON; what stands for a take is the one begun last. */
  request(takeId: string): string;
}

function anyCall(choices: Choices): Call {
  if (choices.oneIn(150)) {
    const values = { a: nested(choices, choices.below(4000)) };
    return { name: 'settings.set', request: () => JSON.stringify({ values }) };
  }
  const name = choices.oneIn(40) ? choices.pick(HOSTILE_TEXTS) : choices.pick(NAMES);
  const good = goodRequest(choices, name);
  const request = choices.oneIn(3) ? good : mutateJson(choices, good, 15);
  const json = JSON.stringify(request) ?? 'null';
  return { name, request: (takeId) => json.replaceAll('THE TAKE', takeId) };
}

function practiceOf(chartId: string) {
  return { chartId, plan: 'plain', key: 'C', level: 'steps' };
}

function goodRequest(choices: Choices, name: string): unknown {
  const chartId = choices.pick(['pier', 'built-in:long-pier', 'built-in:']);
  const takeId = 'THE TAKE';
  const setUp = setUpFor(chartId);
  const events = [
    { kind: 'noteOn', atMs: choices.below(9000), midi: 60, velocity: 80 },
    { kind: 'noteOff', atMs: choices.below(9000), midi: 60 },
    { kind: 'pedal', atMs: 1.5, down: true },
    { kind: 'allOff', atMs: 2, cause: 'disconnect' },
  ].slice(choices.below(4));
  const chart = { title: 'Pier', text: setUp.chartText };
  const device = {
    deviceName: 'Piano',
    outputName: '',
    latencyMs: 12,
    spreadMs: null,
    splitMidi: 60,
    channel: 1,
  };
  const sources = [
    { name: choices.pick(HOSTILE_TEXTS), latencyMs: 12, splitMidi: 60 },
    { name: '', latencyMs: choices.pick([0, -600]), splitMidi: null },
  ].slice(choices.below(3));
  const breaks = [{ fromMs: 100, toMs: choices.pick([100, 300, 50]) }].slice(choices.below(2));
  const requests: Readonly<Record<CallName, unknown>> = {
    'host.info': {},
    'library.state': {},
    'library.backup': {},
    'library.restore': { name: choices.pick(HOSTILE_TEXTS) },
    'library.beginNew': {},
    'archive.export': {},
    'archive.read': { name: choices.pick(['library.zip', '../library.sqlite']), from: 0 },
    'archive.release': { name: choices.pick(['library.zip', '..', '/']) },
    'archive.put': { upload: choices.pick(['one', '../two']), from: 0, base64: 'UEsDBA==' },
    'archive.import': { upload: choices.pick(['one', '../two', 'three']) },
    'charts.list': {},
    'charts.save': { chartId: choices.oneIn(2) ? null : chartId, ...chart },
    'charts.add': { charts: [chart, { ...chart, melody: MELODY }] },
    'charts.tag': { chartId, tags: ['slow', choices.pick(HOSTILE_TEXTS)] },
    'charts.melody': { chartId },
    'charts.saveMelody': { chartId, melody: choices.oneIn(4) ? null : MELODY },
    'charts.delete': { chartId },
    'charts.restore': { chartId },
    'takes.begin': { setUp, sources },
    'takes.append': { takeId, from: choices.below(3), events, sources, breaks },
    'takes.finish': { takeId, endMs: 900 },
    'takes.open': {},
    'takes.add': {
      ...{ setUp, events, sources, breaks, endMs: 900 },
      startedAtMs: choices.pick([null, 0, 1e12]),
      decision: null,
    },
    'takes.decide': {
      takeId,
      decision: choices.oneIn(2)
        ? null
        : {
            reading: { kind: 'key', value: 2, fromSlot: null, clears: 9, of: 12 },
            choice: choices.pick(['taken', 'refused']),
          },
    },
    'takes.list': { chartId: choices.oneIn(2) ? null : chartId, limit: 10 },
    'takes.get': { takeId },
    'takes.note': { takeId, note: choices.pick(HOSTILE_TEXTS) },
    'takes.delete': { takeId },
    'takes.restore': { takeId },
    'journal.takes': { fromMs: choices.pick([0, 900]), toMs: choices.pick([0, 1e13]) },
    'journal.remarks': {},
    'journal.remark': { atMs: choices.pick([0, 1e12]), text: choices.pick(HOSTILE_TEXTS) },
    'progress.practices': { most: 8 },
    'progress.practice': { practice: practiceOf(chartId) },
    'progress.session': {
      ...{ minutes: 20, dailyLimitMinutes: 60, locked: [], skippedIds: [] },
    },
    'progress.ladder': { chartId },
    'progress.heat': {
      ...practiceOf(chartId),
      picture: choices.pick(['rulesByBars', 'weeksByBars', 'chordsByRoots', 'changesByLateness']),
      ...{ tempoBpm: null, playedAtMs: null },
    },
    'settings.get': {},
    'settings.set': {
      values: { [choices.pick(HOSTILE_TEXTS)]: { a: [1, choices.pick(HOSTILE_TEXTS)] } },
    },
    'devices.list': {},
    'devices.save': { device },
    'demos.list': {},
    'demos.get': { file: choices.pick(['late-at-seven.mid', '../charts/long-pier.chart']) },
  };
  return name in requests ? requests[name as CallName] : {};
}

async function check(calls: readonly Call[]): Promise<Verdict> {
  const library = openInMemory();
  let takeId = 'none';
  let isAccepted = false;
  try {
    for (const { name, request } of calls) {
      const answer = await library.services(name, JSON.parse(request(takeId)));
      const sent: unknown = JSON.parse(JSON.stringify(answer));
      if (!answer.ok) {
        must(refusalSchema.safeParse(answer.refusal).success, 'a refusal without its shape');
        const { code } = answer.refusal;
        const { message } = tellRefusal(answer.refusal);
        must(
          code !== 'internal',
          `${name} went wrong inside: ${message} ${request(takeId).slice(0, 300)}`,
        );
        must(message.length < 2000, 'a refusal is too long to be read');
        continue;
      }
      isAccepted = true;
      must(
        typeof sent === 'object' && sent !== null && 'value' in sent,
        'an answer without a value',
      );
      const { value } = sent;
      const known = NAMES.find((one) => one === name);
      must(
        known !== undefined && CALLS[known].reply.safeParse(value).success,
        `${name} is answered in another shape`,
      );
      if (typeof value === 'object' && value !== null && 'takeId' in value)
        takeId = String(value.takeId);
    }
    return isAccepted ? 'accepted' : 'refused';
  } finally {
    library.close();
  }
}
