/** Inputs that once broke a reader, each kept as its own case. Found by the generators of this folder, or by reading. */

import { spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Zippable, zipSync } from 'fflate';
import { describe, expect, test, vi } from 'vitest';
import {
  type Answer,
  CALLS,
  importResultSchema,
  takeEventSchema,
  takeRecordSchema,
  takeTempoSchema,
} from '../../shared/bridge/index.ts';
import { tellRefusal } from '../../shared/refusal-words.ts';
import { describeProblem, parseChart } from '../../src/core/chart/index.ts';
import { describeMusicXmlNotice, readMusicXml } from '../../src/core/chart/musicxml/index.ts';
import {
  completeSettings,
  gradeTake,
  isGradable,
  MOST_SLOTS,
} from '../../src/core/grading/index.ts';
import { inOrderOfTime } from '../../src/core/take/in-order.ts';
import { FURTHEST_MS, type TakeEvent } from '../../src/core/take/model.ts';
import { decodeSmf, encodeSmf, takeFromSmf } from '../../src/core/take/smf/index.ts';
import { plainTake } from '../../src/core/take/sources.ts';
import { decodeEvents, encodeEvents } from '../../src/main/store/event-codec.ts';
import { keyRange, MOST_DRAWN, previewGrid } from '../../src/renderer/screens/open/grid-model.ts';
import { fileOf } from '../helpers/bytes.ts';
import { formFromText } from '../helpers/form-from-text.ts';
import { workingMs } from '../helpers/working-time.ts';
import { choicesFor } from './chance.ts';
import { openInMemory } from './library.ts';
import { manifestOf, takeOf } from './library-files.ts';
import { chartEditsTarget } from './targets/chart-edits.ts';
import { makeZip } from './zip-maker.ts';

const HARMONY = '<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>';
const text = (words: string): Uint8Array => new TextEncoder().encode(words);

/** What a screen says of a refused answer. */
function toldOf(answer: Answer | undefined): string {
  return answer === undefined || answer.ok ? 'not refused' : tellRefusal(answer.refusal).message;
}

describe('MIDI files', () => {
  const note = { kind: 'channel', tick: 0, status: 0x90, data1: 60, data2: 80 } as const;
  const division = { kind: 'metrical', ticksPerQuarter: 96 } as const;

  test('a file of half a million tracks is read like any other', () => {
    const tracks = [[note], ...Array.from({ length: 500_000 }, () => [])];
    const decoded = decodeSmf(encodeSmf({ format: 1, division, tracks }));
    if (!decoded.ok) throw new Error('we wrote it');
    expect(takeFromSmf(decoded.value, null)).toMatchObject({ ok: true });
  });

  test('a file that lasts for months is refused', () => {
    // Quarters of 16.8 s, and a note a hundred million of them later.
    const decoded = decodeSmf(fileOf('00FF5103FFFFFF 00904060 FFFFFF7F 904060'));
    if (!decoded.ok) throw new Error('it can be decoded');
    expect(takeFromSmf(decoded.value, null)).toMatchObject({ problems: [{ code: 'tooLong' }] });
  });
});

describe('grading', () => {
  const form = formFromText('| Cmaj7 | Dm7 |');
  const twoNotes = (atMs: number): readonly TakeEvent[] => [
    { kind: 'noteOn', atMs: 0, midi: 60, velocity: 80 },
    { kind: 'noteOn', atMs, midi: 62, velocity: 80 },
  ];

  test('a tempo map of a microsecond a quarter is seen to be no tempo before it is graded', () => {
    const points = [{ atMs: 0, atQuarter: 0, msPerQuarter: 0.001 }];
    const take = plainTake(twoNotes(60_000), 60_000);
    expect(isGradable(form, take, { level: 'steps', tempo: { kind: 'mapped', points } })).toBe(
      false,
    );
  });

  test('a silence is graded up to the limit of slots, and not a slot beyond', () => {
    const tempo = { kind: 'steady', tempoBpm: 60 } as const;
    const lastMs = MOST_SLOTS * 500;
    const within = plainTake(twoNotes(lastMs), lastMs);
    const beyond = plainTake(twoNotes(lastMs + 1), lastMs + 1);
    expect(isGradable(form, within, { level: 'steps', tempo })).toBe(true);
    expect(isGradable(form, beyond, { level: 'steps', tempo })).toBe(false);
    expect(isGradable(form, beyond, { level: 'steps', tempo, choruses: 2 })).toBe(true);
    // On the downbeat after whole choruses a lone note closes the line; the slot before it is the line's.
    const before = plainTake(twoNotes(lastMs - 500), lastMs);
    expect(gradeTake(form, before, { level: 'steps', tempo }).slots.length).toBe(MOST_SLOTS);
  });

  test('the command says of such a file that it cannot be graded, and which it is', () => {
    const file = join(mkdtempSync(join(tmpdir(), 'findings-')), 'fast.mid');
    // A microsecond a quarter, and a note 268 million quarters later.
    writeFileSync(file, fileOf('00FF5103000001 00904060 FFFFFF7F904060', '0001'));
    const chart = join(import.meta.dirname, '..', '..', 'shared', 'charts', 'long-pier.chart');
    const script = join(import.meta.dirname, '..', '..', 'src', 'main', 'grade.ts');
    const run = spawnSync(process.execPath, [script, file, '--chart', chart], { encoding: 'utf8' });
    expect([run.status, run.stdout]).toEqual([3, '']);
    expect(run.stderr).toMatch(/fast\.mid: .*more than 200000 slots.*Check the tempo/u);
  });

  test('the preview of a file of a million notes in four bars draws what can be drawn', () => {
    const events = Array.from(
      { length: 300_000 },
      (_, index): TakeEvent => ({
        kind: 'noteOn',
        atMs: index / 100,
        midi: 30 + (index % 80),
        velocity: 80,
      }),
    );
    const grade = completeSettings({ level: 'free', tempo: { kind: 'steady', tempoBpm: 60 } });
    const { notes } = previewGrid(form, grade, plainTake(events, 3000), 0);
    expect(notes.length).toBe(MOST_DRAWN);
    const many = Array.from({ length: 300_000 }, () => ({ atMs: 0, midi: 40, isLeftHand: false }));
    expect(keyRange(many)).toEqual({ low: 38, high: 74 });
  });

  test('events of two keyboards a little out of step are put in order, those of one time left as they came', () => {
    const at = (atMs: number, midi: number): TakeEvent => ({ kind: 'noteOff', atMs, midi });
    expect(inOrderOfTime([at(0, 1), at(5, 2), at(3, 3), at(5, 4), at(3, 5)])).toEqual([
      at(0, 1),
      at(3, 3),
      at(3, 5),
      at(5, 2),
      at(5, 4),
    ]);
  });
});

describe('stored events', () => {
  test('a time that no clock counts is refused: writing it down never came to an end', () => {
    const event = { kind: 'noteOff', midi: 60 };
    for (const atMs of [1e308, -1e308, FURTHEST_MS + 1, Number.NaN]) {
      expect([atMs, takeEventSchema.safeParse({ ...event, atMs }).success]).toEqual([atMs, false]);
    }
  });

  test('a take longer than any call can bring is read all the same', () => {
    const event = { kind: 'noteOff', atMs: 1, midi: 60 };
    const events = Array.from({ length: 2_000_001 }, () => event);
    expect(takeRecordSchema.shape.events.safeParse(events).success).toBe(true);
  });

  test('the furthest times allowed come back as they were', () => {
    const events = [FURTHEST_MS, -FURTHEST_MS, FURTHEST_MS].map(
      (atMs): TakeEvent => ({ kind: 'noteOff', atMs, midi: 60 }),
    );
    expect(decodeEvents(encodeEvents(events))).toEqual(events);
  });

  test('bytes that add up to a time no clock counts are not what was written', () => {
    const bytes = encodeEvents([{ kind: 'noteOff', atMs: FURTHEST_MS, midi: 60 }]);
    expect(decodeEvents(Uint8Array.from([...bytes, ...bytes]))).toBeNull();
  });

  test('a tempo map that turns back is refused: its slots lie at no time', () => {
    const point = (atMs: number, atQuarter: number) => ({ atMs, atQuarter, msPerQuarter: 500 });
    const map = (...points: readonly object[]) =>
      takeTempoSchema.safeParse({ kind: 'mapped', points }).success;
    expect(map(point(0, 0), point(500, 1))).toBe(true);
    expect(map(point(0, 0), point(-500, 1))).toBe(false);
    expect(map(point(0, 1), point(500, 0))).toBe(false);
    expect(map({ atMs: 0, atQuarter: 0, msPerQuarter: 5e-324 })).toBe(false);
  });
});

describe('what is told', () => {
  test('a word of thousands of letters is cut where it is shown, and no spelling is suggested for it', () => {
    const word = 'C'.repeat(3000);
    const read = parseChart(`title: T\nkey: C\nmeter: 4/4\n${word} |\n`);
    if (read.ok) throw new Error('its bar is not opened');
    for (const problem of read.problems) expect(describeProblem(problem).length).toBeLessThan(300);
    const planned = parseChart(
      `title: T\nkey: C\nmeter: 4/4\n[${word}]\n| C |\nplan: ${word}\n[A]\n| C |\n`,
    );
    const sentences = planned.ok ? [] : planned.problems.map(describeProblem);
    expect(sentences).toHaveLength(1);
    expect(sentences[0]?.length).toBeLessThan(300);
    const wild = `<score-partwise><part><measure><${word}/><harmony/></measure></part></score-partwise>`;
    const score = readMusicXml(text(wild.replace('<harmony/>', HARMONY)));
    if (!score.ok) throw new Error('the score can be read');
    const told = score.value.notices.map(describeMusicXmlNotice);
    expect(told.join(' ')).toContain('CCC');
    for (const sentence of told) expect(sentence.length).toBeLessThan(500);
  });

  test('a request nested too deep is refused as one, not as a slip of our own', async () => {
    const { services, close } = openInMemory();
    const values = JSON.parse(`{"a":${'['.repeat(200_000)}${']'.repeat(200_000)}}`);
    expect(toldOf(await services('settings.set', { values }))).toBe(
      'settings.set: it is nested too deep',
    );
    close();
  });
});

describe('an archive', () => {
  test('that was never handed over is told as missing, not as a slip of our own', async () => {
    const { services, close } = openInMemory();
    expect(await services('archive.import', { upload: 'three' })).toMatchObject({
      ok: false,
      refusal: { code: 'notFound' },
    });
    close();
  });

  const NO_LISTS = { 'charts.json': [], 'tags.json': [], 'settings.json': {}, 'devices.json': [] };
  /** What a library says to an archive of these files, and again to the same. */
  async function imported(files: Readonly<Record<string, unknown>>, times = 1) {
    const { services, close } = openInMemory();
    const all = { ...NO_LISTS, ...files };
    const manifest = { ...manifestOf(new Map(Object.entries(all))), sha256: {} };
    const zip = makeZip(
      Object.entries({ 'manifest.json': manifest, ...all }).map(([name, content]) => ({
        name,
        bytes: text(typeof content === 'string' ? content : JSON.stringify(content)),
      })),
    );
    const base64 = Buffer.from(zip).toString('base64');
    const answers = [];
    for (let time = 0; time < times; time++) {
      await services('archive.put', { upload: 'one', from: 0, base64 });
      answers.push(await services('archive.import', { upload: 'one' }));
    }
    close();
    return answers;
  }

  test.each([
    [{ endMs: 1e12 }, 'endMs'],
    [{ endMs: -1e12 }, 'endMs'],
    [{ startedAtMs: 1e300 }, 'startedAtMs'],
    [{ startedAtMs: -1 }, 'startedAtMs'],
  ])('with a take of times no list can show, %j, is refused', async (times, field) => {
    const take = { ...takeOf('one'), ...times };
    const [answer] = await imported({ 'takes/one.json': take });
    expect(answer).toMatchObject({ ok: false, refusal: { code: 'badRequest' } });
    expect(toldOf(answer)).toContain(field);
    expect(await imported({ 'takes/one.json': takeOf('one') })).toMatchObject([{ ok: true }]);
  });

  test('with a chart written in no year is refused', async () => {
    const chart = { chartId: 'one', title: 'One', file: 'one.chart', updatedAtMs: 1e300 };
    const [answer] = await imported({ 'charts.json': [chart], 'charts/one.chart': '' });
    expect(toldOf(answer)).toContain('updatedAtMs');
  });

  test('nested too deep is refused as one, not as a slip of our own', async () => {
    const deep = `{"a":${'['.repeat(200_000)}${']'.repeat(200_000)}}`;
    const [answer] = await imported({ 'settings.json': deep });
    expect(answer).toMatchObject({ ok: false, refusal: { code: 'badRequest' } });
    expect(toldOf(answer)).toBe('The archive was not imported: settings.json is nested too deep.');
  });

  test('with names of thousands of letters is told of in a sentence', async () => {
    const [refused] = await imported({ [`takes/${'y'.repeat(9000)}.json`]: '{' });
    if (refused === undefined || refused.ok) throw new Error('it is no JSON');
    expect(tellRefusal(refused.refusal).message).toContain('takes/yyy');
    expect(tellRefusal(refused.refusal).message.length).toBeLessThan(400);
    const [taken] = await imported({ ['n'.repeat(9000)]: '' });
    if (!taken?.ok) throw new Error('it can be imported');
    const { told } = importResultSchema.parse(taken.value);
    expect(told).toHaveLength(1);
    expect(told.join().length).toBeLessThan(400);
  });

  test('with halves of characters comes in once: a database keeps another sign for them', async () => {
    const chart = { chartId: '\uD800', title: 'half \uDC00', file: 'one.chart', updatedAtMs: 0 };
    const files = {
      'charts.json': [chart],
      'charts/one.chart': '',
      'settings.json': { '\uD800': 1, '\uDC00': 2 },
    };
    const none = { charts: 0, takes: 0, settings: 0, devices: 0 };
    expect(await imported(files, 2)).toMatchObject([
      { ok: true, value: { added: { ...none, charts: 1, settings: 1 } } },
      { ok: true, value: { added: none, alreadyHere: { ...none, charts: 1, settings: 1 } } },
    ]);
  });
});

describe('a take that is brought', () => {
  test.each([1e300, -1])(
    'is refused when it began at %d ms: no calendar has it, and no export could name it',
    (startedAtMs) => {
      const { setUp, events, sources, breaks, endMs, decision, ...kept } = takeOf('one');
      const take = {
        setUp,
        events,
        sources,
        breaks,
        endMs,
        decision,
        startedAtMs: kept.startedAtMs,
      };
      const request = CALLS['takes.add'].request;
      expect(request.safeParse(take).success).toBe(true);
      expect(request.safeParse({ ...take, startedAtMs }).success).toBe(false);
    },
  );
});

describe('MusicXML', () => {
  const score = (measure: string): string =>
    `<score-partwise><part-list/><part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>${measure}</measure></part></score-partwise>`;
  const harmony = (rest = ''): string =>
    `<harmony><root><root-step>C</root-step></root><kind>major</kind>${rest}</harmony>`;
  const degree = (value: string, alter: string): string =>
    `<degree><degree-value>${value}</degree-value><degree-alter>${alter}</degree-alter><degree-type>alter</degree-type></degree>`;

  test.each([
    ['9', '1e9'],
    ['9', '-1e15'],
    ['1e300', '1'],
    ['-4', '1'],
    ['2.5', '1'],
  ])('a degree of %s altered by %s is told of, not tried', (value, alter) => {
    const read = readMusicXml(text(score(harmony() + harmony(degree(value, alter)))));
    if (!read.ok) throw new Error('the score can be read');
    expect(read.value.notices.map(({ what }) => what).join()).toContain('whose degrees cannot be');
  });

  test('signs that mean nothing end the reading soon, not a thousand problems later', () => {
    const bytes = text(`<score-partwise>${'\u0001'.repeat(60_000)}`);
    const startMs = workingMs();
    expect(readMusicXml(bytes)).toMatchObject({ problems: [{ code: 'xml' }] });
    expect(workingMs() - startMs).toBeLessThan(120);
  });

  test('two hundred thousand chords in one measure are read, and each that was lost is told', () => {
    const read = readMusicXml(text(score(harmony().repeat(200_000))));
    if (!read.ok) throw new Error('the score can be read');
    expect(read.value.notices.length).toBeGreaterThan(199_000);
  });

  const CONTAINER = text(
    '<container><rootfiles><rootfile full-path="s.xml"/></rootfiles></container>',
  );
  const archive = (entries: Zippable): Uint8Array =>
    zipSync({ 'META-INF/container.xml': CONTAINER, ...entries });

  test('an archive that unfolds a thousandfold is refused before it is unfolded', () => {
    const bomb = archive({ 's.xml': [new Uint8Array(31_000_000).fill(0x20), { level: 9 }] });
    expect(bomb.length).toBeLessThan(64_000);
    expect(readMusicXml(bomb)).toMatchObject({
      problems: [{ code: 'archive', why: 'it unfolds to far more than a score does' }],
    });
  });

  test('an archive whose list claims to be endless is refused', () => {
    const bytes = archive({ 's.xml': text(score(harmony())) });
    const endless = withCount(bytes, 0xffff_ffff);
    expect(readMusicXml(endless)).toMatchObject({
      problems: [{ code: 'archive', why: 'its list of contents does not end' }],
    });
    expect(readMusicXml(bytes)).toMatchObject({ ok: true });
  });

  test('an archive that lists one entry again and again has the first of them read alone', () => {
    const bytes = archive({ 's.xml': text(score(harmony())) });
    expect(readMusicXml(withRepeatedEntry(bytes, 200))).toMatchObject({ ok: true });
  });

  test('an entry named like an inherited member is not there', () => {
    const named = text(
      '<container><rootfiles><rootfile full-path="constructor"/></rootfiles></container>',
    );
    expect(readMusicXml(zipSync({ 'META-INF/container.xml': named }))).toMatchObject({
      problems: [{ code: 'archive', why: 'it holds no constructor' }],
    });
  });
});

/** The end record's count set through ZIP64, which has room for four thousand million. Source: APPNOTE 4.3.14–4.3.16. */
function withCount(bytes: Uint8Array, count: number): Uint8Array {
  const end = bytes.length - 22;
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const record = new Uint8Array(56);
  const recordView = new DataView(record.buffer);
  recordView.setUint32(0, 0x06064b50, true);
  recordView.setUint32(32, count, true);
  recordView.setUint32(48, view.getUint32(end + 16, true), true);
  const locator = new Uint8Array(20);
  const locatorView = new DataView(locator.buffer);
  locatorView.setUint32(0, 0x07064b50, true);
  locatorView.setUint32(8, end, true);
  return Uint8Array.from([
    ...bytes.subarray(0, end),
    ...record,
    ...locator,
    ...bytes.subarray(end),
  ]);
}

/** The last entry listed so many times more, folded in a way nobody can unfold. Source: APPNOTE 4.3.12. */
function withRepeatedEntry(bytes: Uint8Array, times: number): Uint8Array {
  const end = bytes.length - 22;
  const view = new DataView(bytes.buffer, bytes.byteOffset);
  const first = view.getUint32(end + 16, true);
  const second = first + 46 + view.getUint16(first + 28, true);
  const entry = Uint8Array.from(bytes.subarray(second, end));
  entry[10] = 99;
  const tail = Uint8Array.from(bytes.subarray(end));
  new DataView(tail.buffer).setUint16(8, times + 2, true);
  const out = new Uint8Array(end + entry.length * times + 22);
  out.set(bytes.subarray(0, end));
  for (let time = 0; time < times; time++) out.set(entry, end + time * entry.length);
  out.set(tail, out.length - 22);
  return out;
}

test('of seed 3, edit 4848: hundreds of misspelled names of scales are told of soon', async () => {
  const input = chartEditsTarget.make(choicesFor(chartEditsTarget.name, 3, 4848));
  const small = vi.spyOn(String.prototype, 'toLowerCase');
  try {
    await input.run();
    // Every known name put in small letters for every comparison: 230,022 times.
    expect(small.mock.calls.length).toBeLessThan(10_000);
  } finally {
    small.mockRestore();
  }
});

test('of seed 2, edit 8665: hundreds of misspelled symbols are told of soon', async () => {
  const input = chartEditsTarget.make(choicesFor(chartEditsTarget.name, 2, 8665));
  const times: number[] = [];
  for (let run = 0; run < 3; run++) {
    const startMs = workingMs();
    await input.run();
    times.push(workingMs() - startMs);
  }
  // The first is slow until the code is compiled; before, it was over 120.
  expect(Math.min(...times)).toBeLessThan(110);
});
