/**
 * Charts through MusicXML and back; files as other programs write them; hostile ones. Elements and their meaning:
 * MusicXML 4.0 (W3C Music Notation Community Group, 2021); the snippets are hand-written after its documentation.
 */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { strToU8, zipSync } from 'fflate';
import { describe, expect, test } from 'vitest';
import { type Chart, formatChart, parseChart } from '../../../../src/core/chart/index.ts';
import {
  describeMusicXmlNotice,
  describeMusicXmlProblem,
  readMusicXml,
  writeMusicXml,
} from '../../../../src/core/chart/musicxml/index.ts';
import { chordPcs } from '../../../../src/core/theory/index.ts';
import { arbitraryChart } from '../../../helpers/arbitrary-chart.ts';
import { runs } from '../../../helpers/runs.ts';
import { chartOf, formOf, symbolsOf } from '../reading.ts';

const CHARTS = join(import.meta.dirname, '..', '..', '..', '..', 'shared', 'charts');

function read(xml: string) {
  return readMusicXml(strToU8(xml));
}

function chartFrom(xml: string): { readonly chart: Chart; readonly told: readonly string[] } {
  const score = read(xml);
  if (!score.ok) throw new Error(score.problems.map(describeMusicXmlProblem).join());
  return { chart: score.value.chart, told: score.value.notices.map(describeMusicXmlNotice) };
}

/** A score of one part with measures given as their inner text. */
function scoreOf(...measures: readonly string[]): string {
  const first =
    '<attributes><divisions>2</divisions><key><fifths>0</fifths></key><time><beats>4</beats><beat-type>4</beat-type></time></attributes>';
  const bars = measures.map(
    (inner, index) =>
      `<measure number="${index + 1}">${index === 0 ? first : ''}${inner}</measure>`,
  );
  return `<score-partwise version="4.0"><part-list/><part id="P1">${bars.join('')}</part></score-partwise>`;
}

const harmony = (step: string, kind: string, rest = '', text = ''): string =>
  `<harmony><root><root-step>${step}</root-step></root><kind${text === '' ? '' : ` text="${text}"`}>${kind}</kind>${rest}</harmony>`;
const REST = '<note><rest/><duration>8</duration></note>';

function barsOf(chart: Chart): readonly string[] {
  return formatChart(chart)
    .split('\n')
    .filter((line) => line.includes('|'));
}

describe('there and back', () => {
  test.each(readdirSync(CHARTS).filter((name) => name.endsWith('.chart')))(
    '%s is the same chart',
    (name) => {
      const parsed = parseChart(readFileSync(join(CHARTS, name), 'utf8'));
      if (!parsed.ok) throw new Error(name);
      expect(read(writeMusicXml(parsed.value))).toEqual({
        ok: true,
        value: { chart: parsed.value, melody: null, notices: [] },
      });
    },
  );

  test('every chart is the same chart', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        expect(read(writeMusicXml(chart))).toEqual({
          ok: true,
          value: { chart, melody: null, notices: [] },
        });
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  test('the score alone says every chord, beat, meter and sign: without our own field nothing but palettes, plans and headers is lost', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        const bare = writeMusicXml(chart).replace(/<miscellaneous>.*?<\/miscellaneous>/su, '');
        const { chart: back } = chartFrom(bare);
        const bars = (one: Chart) =>
          one.sections.flatMap((section) =>
            section.bars.map(({ content, ...rest }) => ({
              ...rest,
              chords:
                content.kind === 'same'
                  ? content.kind
                  : content.chords.map(({ beat, beats, symbol }) => [
                      beat,
                      beats,
                      symbol?.text ?? null,
                    ]),
            })),
          );
        expect(bars(back)).toEqual(bars(chart));
        expect(back.key).toEqual(chart.key);
        expect(back.sections.map(({ name }) => name)).toEqual(
          chart.sections.map(({ name }) => name),
        );
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  test('a chord changed elsewhere counts, and the plans that no longer fit are told of', () => {
    const chart = chartOf('title: a\nkey: C\nmeter: 4/4\n| Dm7 | G7 |\n\nplan: two\n| % | Db7 |\n');
    const changed = writeMusicXml(chart).replace(
      '<kind text="7">dominant</kind>',
      '<kind text="maj7">major-seventh</kind>',
    );
    const { chart: back, told } = chartFrom(changed);
    expect(barsOf(back)).toEqual(['| Dm7 | Gmaj7 |']);
    expect(told.join()).toContain('plans and palettes were left out');
  });
});

describe('what other programs write', () => {
  test('offsets, notes between chords, and chords off the beat', () => {
    const quarter =
      '<note><pitch><step>C</step><octave>4</octave></pitch><duration>2</duration></note>';
    const { chart, told } = chartFrom(
      scoreOf(
        harmony('D', 'minor-seventh') +
          quarter +
          quarter +
          harmony('G', 'dominant') +
          quarter +
          quarter,
        harmony('C', 'major-sixth') + harmony('A', 'dominant', '<offset>5</offset>') + REST,
        harmony('F', 'major') + harmony('B', 'dominant', '<offset>5.5</offset>') + REST,
      ),
    );
    expect(barsOf(chart)).toEqual(['| Dm7 G7 | C6 / / / / A7 / / | F / / B7 |']);
    expect(told).toEqual([
      'Measure 3: B7 was moved to beat 4: chords stand on beats and half-beats.',
    ]);
  });

  test('a measure without a chord holds the one before, the first is without', () => {
    const { chart } = chartFrom(scoreOf(REST, harmony('F', 'major') + REST, REST));
    expect(symbolsOf(formOf(chart))).toEqual(['N.C.', 'F', 'F']);
  });

  test('missing divisions, meter and title, and a second part', () => {
    const part = `<part id="P2"><measure number="1">${harmony('C', 'major')}<note><rest/><duration>4</duration></note></measure></part>`;
    const { chart, told } = chartFrom(
      `<score-partwise><part-list/><part id="P1"><measure number="1"/></part>${part}</score-partwise>`,
    );
    expect([chart.title, barsOf(chart)]).toEqual(['Untitled', ['| C |']]);
    expect(told.join()).toContain('the chords are those of part 2 of 2');
    expect(told.join()).toContain('the divisions of a quarter are missing');
    expect(told.join()).toContain('no meter is written');
  });

  test('a chord by its text alone, and a kind nobody knows', () => {
    const { chart, told } = chartFrom(
      scoreOf(harmony('C', 'other', '', '7alt') + REST, harmony('D', 'Neapolitan') + REST),
    );
    expect(barsOf(chart)).toEqual(['| C7alt | C7alt |']);
    expect(told).toHaveLength(2);
    expect(told[1]).toBe(
      'Measure 2: the kind of chord “Neapolitan” was not understood; the chord before it goes on.',
    );
  });

  test('degrees, basses and texts that mean the chord keep its spelling', () => {
    const degree = (value: number, alter: number, type: string) =>
      `<degree><degree-value>${value}</degree-value><degree-alter>${alter}</degree-alter><degree-type>${type}</degree-type></degree>`;
    const bass = '<bass><bass-step>B</bass-step><bass-alter>-1</bass-alter></bass>';
    const { chart } = chartFrom(
      scoreOf(
        harmony('G', 'dominant', degree(9, -1, 'add')) + REST,
        harmony('C', 'dominant', bass) + REST,
        harmony('F', 'major-seventh', '', 'Δ7') + REST,
        harmony('D', 'suspended-fourth', degree(7, 0, 'add')) + REST,
        // The text says another chord than kind and degrees: these are what the file means.
        harmony('E', 'minor-seventh', '', 'maj7') + REST,
      ),
    );
    expect(symbolsOf(formOf(chart))).toEqual(['G7b9', 'C7/Bb', 'FΔ7', 'D7sus4', 'Em7']);
  });

  test('repeats that do not fit together are left out and told of; a pickup is read', () => {
    const end = '<barline location="right"><repeat direction="backward"/></barline>';
    const { chart, told } = chartFrom(
      scoreOf(harmony('C', 'major') + REST + end, harmony('F', 'major') + REST + end).replace(
        '<measure number="1">',
        '<measure number="0" implicit="yes"><attributes><divisions>2</divisions></attributes><note><rest/><duration>2</duration></note></measure><measure number="1">',
      ),
    );
    expect(symbolsOf(formOf(chart))).toEqual(expect.arrayContaining(['C', 'F']));
    expect(chart.pickup).toEqual({ eighths: 2, chords: [] });
    expect(told.join()).not.toContain('pickup');
  });

  test('UTF-16 and compressed files', () => {
    const xml = scoreOf(harmony('C', 'major') + REST);
    const wide = new Uint8Array(2 + xml.length * 2);
    wide.set([0xff, 0xfe]);
    [...xml].forEach((letter, index) => {
      wide.set([letter.charCodeAt(0), 0], 2 + index * 2);
    });
    expect(readMusicXml(wide).ok).toBe(true);
    const container =
      '<container><rootfiles><rootfile full-path="score.xml"/></rootfiles></container>';
    const archive = zipSync({
      'META-INF/container.xml': strToU8(container),
      'score.xml': strToU8(xml),
    });
    expect(readMusicXml(archive).ok).toBe(true);
  });
});

describe('every kind of the standard', () => {
  // `kind-value` of musicxml.xsd with the contents its documentation gives in words; pitch classes above C worked out.
  test.each([
    ['major', '0 4 7'],
    ['minor', '0 3 7'],
    ['augmented', '0 4 8'],
    ['diminished', '0 3 6'],
    ['dominant', '0 4 7 10'],
    ['major-seventh', '0 4 7 11'],
    ['minor-seventh', '0 3 7 10'],
    ['diminished-seventh', '0 3 6 9'],
    ['augmented-seventh', '0 4 8 10'],
    ['half-diminished', '0 3 6 10'],
    ['major-minor', '0 3 7 11'],
    ['major-sixth', '0 4 7 9'],
    ['minor-sixth', '0 3 7 9'],
    ['dominant-ninth', '0 2 4 7 10'],
    ['major-ninth', '0 2 4 7 11'],
    ['minor-ninth', '0 2 3 7 10'],
    ['dominant-11th', '0 2 4 5 7 10'],
    ['major-11th', '0 2 4 5 7 11'],
    ['minor-11th', '0 2 3 5 7 10'],
    // A lead sheet's thirteenth leaves the eleventh out: own rule, told in the module's header.
    ['dominant-13th', '0 2 4 7 9 10'],
    ['major-13th', '0 2 4 7 9 11'],
    ['minor-13th', '0 2 3 5 7 9 10'],
    ['suspended-second', '0 2 7'],
    ['suspended-fourth', '0 5 7'],
    ['power', '0 7'],
  ])('%s reads as its tones', (kind, pcs) => {
    const { chart, told } = chartFrom(scoreOf(harmony('C', kind) + REST));
    const symbol = formOf(chart).bars[0]?.chords[0]?.symbol;
    if (symbol == null) throw new Error('no chord');
    expect(
      chordPcs(symbol)
        .toSorted((a, b) => a - b)
        .join(' '),
    ).toBe(pcs);
    expect(told).toEqual([]);
  });
});

describe('what cannot be read is told in one sentence', () => {
  const bomb = `<!DOCTYPE x [${Array.from({ length: 12 }, (_, n) => `<!ENTITY e${n + 1} "${`&e${n};`.repeat(10)}">`).join('')}]><score-partwise>&e12;</score-partwise>`;
  const external =
    '<!DOCTYPE x [<!ENTITY f SYSTEM "file:///etc/hostname">]><score-partwise>&f;</score-partwise>';
  const deep = `${'<a>'.repeat(5000)}${'</a>'.repeat(5000)}`;
  test.each([
    ['an empty file', '', 'The file is empty'],
    ['another document', '<html/>', 'a document of another kind (<html>)'],
    [
      'a score by measures in which one lacks a part',
      '<score-timewise><measure number="1"><part id="A"/><part id="B"/></measure><measure number="2"><part id="A"/></measure></score-timewise>',
      'measure 2 lacks part B',
    ],
    ['an empty score by measures', '<score-timewise/>', '0 parts'],
    ['a torn document', '<score-partwise><part>', 'Line 1, column'],
    ['entities that unfold without end', bomb, 'undefined entity'],
    ['an entity from outside', external, 'undefined entity'],
    ['deep nesting', deep, 'nested more than'],
    ['no chords', scoreOf(REST), 'no chord symbol'],
    [
      'a meter no chart has',
      scoreOf(harmony('C', 'major')).replace('<beats>4', '<beats>11'),
      '11/4',
    ],
    [
      'a signature without a name',
      scoreOf(harmony('C', 'major')).replace('<fifths>0', '<fifths>9'),
      'key signature 9',
    ],
  ])('%s', (_, xml, words) => {
    const score = read(xml);
    expect(score.ok ? [] : score.problems.map(describeMusicXmlProblem)).toEqual([
      expect.stringContaining(words),
    ]);
  });

  test('a score by measures reads as the one by parts', () => {
    const bar = (step: string) => harmony(step, 'dominant') + REST;
    const measures = [bar('C'), bar('F'), harmony('G', 'minor-seventh') + REST];
    const partwise = scoreOf(...measures);
    const first = /<attributes>.*?<\/attributes>/u.exec(partwise)?.[0] ?? '';
    const timewise = measures.map(
      (inner, index) =>
        `<measure number="${index + 1}"><part id="P0">${REST}</part><part id="P1">${index === 0 ? first : ''}${inner}</part></measure>`,
    );
    const { chart } = chartFrom(
      `<score-timewise version="4.0"><part-list/>${timewise.join('')}</score-timewise>`,
    );
    expect(formatChart(chart)).toBe(formatChart(chartFrom(partwise).chart));
  });

  test('a bad list of contents: the one score in the archive is read, of two neither', () => {
    const score = strToU8(scoreOf(harmony('C', 'dominant') + REST));
    const container = (content: string) => ({ 'META-INF/container.xml': strToU8(content) });
    const missing = '<container><rootfiles><rootfile full-path="no.xml"/></rootfiles></container>';
    for (const bad of [
      {},
      container('<container>'),
      container('<container/>'),
      container(missing),
    ]) {
      expect(readMusicXml(zipSync({ ...bad, 'the/tune.musicxml': score, 'a.png': score })).ok).toBe(
        true,
      );
      const two = readMusicXml(zipSync({ ...bad, 'a.musicxml': score, 'b.xml': score }));
      expect(two).toMatchObject({ ok: false, problems: [{ code: 'archive' }] });
    }
  });

  test('archives: torn, without a score, and one that would unfold to fifty megabytes', () => {
    const problems = (bytes: Uint8Array) => {
      const score = readMusicXml(bytes);
      return score.ok ? [] : score.problems.map(({ code }) => code);
    };
    const container = strToU8(
      '<container><rootfiles><rootfile full-path="s.xml"/></rootfiles></container>',
    );
    const zip = zipSync({
      'META-INF/container.xml': container,
      's.xml': new Uint8Array(50_000_000),
    });
    expect(problems(zip.slice(0, 60))).toEqual(['archive']);
    expect(problems(zipSync({ 'a.txt': strToU8('a') }))).toEqual(['archive']);
    expect(problems(zip)).toEqual(['tooLarge']);
    expect(problems(Uint8Array.of(0x50, 0x4b, 3, 4, 9, 9, 9))).toEqual(['archive']);
  });

  test('any bytes give a chart or problems, never an exception', () => {
    fc.assert(
      fc.property(
        fc.uint8Array({ maxLength: 400 }),
        fc.constantFrom('', '<score-partwise>', 'PK\u0003\u0004'),
        (bytes, head) => {
          const whole = new Uint8Array([...strToU8(head), ...bytes]);
          expect(typeof readMusicXml(whole).ok).toBe('boolean');
        },
      ),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });
});
