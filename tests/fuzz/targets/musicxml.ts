/** MusicXML as text and as an archive: what is read is a chart, which can be written and read both ways. */

import { zipSync } from 'fflate';
import { melodySchema } from '../../../shared/bridge/index.ts';
import { type Chart, formatChart, parseChart } from '../../../src/core/chart/index.ts';
import {
  describeMusicXmlNotice,
  describeMusicXmlProblem,
  readMusicXml,
  writeMusicXml,
} from '../../../src/core/chart/musicxml/index.ts';
import {
  barStarts,
  type Melody,
  type MelodySound,
  melodyBars,
} from '../../../src/core/melody/index.ts';
import { keyFifths } from '../../../src/core/theory/index.ts';
import type { Choices } from '../chance.ts';
import { CHARTS } from '../corpus.ts';
import { LARGEST_INPUT, mutateBytes, mutateText } from '../mutate.ts';
import { type FuzzTarget, must, present, sameJson, type Verdict } from '../target.ts';

/** Without the field in which our own chart text comes along, so that the score itself is read. */
const SCORES = CHARTS.map(shortened).flatMap((chart) => {
  const own = writeMusicXml(chart);
  const sung = writeMusicXml(chart, melodyOver(chart));
  return [own, sung, own.replace(/<miscellaneous>.*?<\/miscellaneous>/su, '')];
});

function shortened(chart: Chart): Chart {
  const [section] = chart.sections;
  const short = {
    ...chart,
    plans: [],
    sections: [{ name: 'A', bars: section?.bars.slice(0, 4) ?? [] }],
  };
  return parseChart(formatChart(short)).ok ? short : present(CHARTS.at(-1));
}

/** An eighth of pickup tied into the first bar, then threes and long notes up to the end. */
function melodyOver(chart: Chart): Melody {
  const bars = melodyBars(chart);
  const end = barStarts(bars).at(-1) ?? 0;
  const sounds: MelodySound[] = [{ from: -6, length: 10, name: 'Eb4' }];
  for (let from = 4; from + 30 <= end; from += 34) {
    sounds.push({ from, length: 4, name: 'F#5' }, { from: from + 4, length: 26, name: 'B3' });
  }
  return { leadIn: 6, fifths: keyFifths(chart.key), bars, sounds };
}

const NUMBERS = [
  '0',
  '-1',
  '1e9',
  '-1e9',
  '1e308',
  'NaN',
  '0x10',
  '2.5',
  '99999999999999999999',
  '',
  ' 4 ',
  '13',
  '7',
];
const ELEMENTS = [
  'harmony',
  'note',
  'measure',
  'part',
  'root',
  'kind',
  'degree',
  'bass',
  'attributes',
  'barline',
  'backup',
  'forward',
  'direction',
  'sound',
];
const WORDS: readonly string[] = [
  ...ELEMENTS.flatMap((name) => [`<${name}>`, `</${name}>`, `<${name}/>`]),
  '<!DOCTYPE x [<!ENTITY a "&#38;b;&#38;b;"><!ENTITY b SYSTEM "file:///etc/passwd">]>',
  '&a;',
  '&b;',
  '&#x110000;',
  '&#0;',
  '<![CDATA[',
  ']]>',
  '<!--',
  '-->',
  '<?xml version="1.1"?>',
  'xmlns:a="b"',
  '<repeat direction="forward"/>',
  '<repeat direction="backward"/>',
  '<ending number="1,2" type="start"/>',
  '<degree><degree-value>9</degree-value><degree-alter>1</degree-alter><degree-type>add</degree-type></degree>',
  '<transpose><chromatic>1</chromatic></transpose>',
  '<harmony><function>V</function></harmony>',
  '<time><senza-misura/></time>',
];

function score(choices: Choices): string {
  let text = choices.pick(SCORES);
  if (choices.oneIn(2)) {
    // The content of one element or attribute becomes a number at its edge.
    const places = [...text.matchAll(/>([^<>]{1,12})</gu)];
    const place = choices.pick(places);
    text =
      text.slice(0, place.index + 1) +
      choices.pick(NUMBERS) +
      text.slice(place.index + place[0].length - 1);
  }
  if (choices.oneIn(50)) {
    const name = choices.pick(ELEMENTS);
    text = text.replace('<measure', `${`<${name}>`.repeat(choices.below(5000))}<measure`);
  }
  if (choices.oneIn(50))
    text = text.replace('<part ', `<part x="${'y'.repeat(choices.below(60_000))}" `);
  const spoilt = choices.oneIn(4) ? text : mutateText(choices, text, SCORES, WORDS);
  return spoilt.slice(0, LARGEST_INPUT);
}

const encode = (text: string): Uint8Array => new TextEncoder().encode(text);

export const musicXmlTarget: FuzzTarget = {
  name: 'MusicXML',
  share: 50,
  make(choices) {
    const bytes = choices.oneIn(20) ? utf16(score(choices)) : encode(score(choices));
    return { size: bytes.length, run: () => check(bytes) };
  },
};

function utf16(text: string): Uint8Array {
  const out = new Uint8Array(2 + text.length * 2);
  const view = new DataView(out.buffer);
  view.setUint16(0, 0xfeff);
  for (let at = 0; at < text.length; at++) view.setUint16(2 + at * 2, text.charCodeAt(at));
  return out;
}

const CONTAINER = encode(
  '<container><rootfiles><rootfile full-path="s.musicxml" media-type="application/vnd.recordare.musicxml+xml"/></rootfiles></container>',
);
const ARCHIVES = SCORES.slice(0, 6).map((text) =>
  zipSync({ 'META-INF/container.xml': CONTAINER, 's.musicxml': encode(text) }),
);

export const mxlTarget: FuzzTarget = {
  name: 'MusicXML archives',
  share: 40,
  make(choices) {
    const bytes = choices.oneIn(8)
      ? zipSync({
          'META-INF/container.xml': choices.oneIn(4) ? encode(score(choices)) : CONTAINER,
          [choices.pick(['s.musicxml', 'constructor', '../s.musicxml', ''])]: encode(
            score(choices),
          ),
        })
      : spoiltArchive(choices);
    return { size: bytes.length, run: () => check(bytes) };
  },
};

function spoiltArchive(choices: Choices): Uint8Array {
  const archive = choices.pick(ARCHIVES);
  if (choices.oneIn(2)) return mutateBytes(choices, archive, ARCHIVES);
  // The list of contents at the end is where the sizes are.
  const end = archive.length - 120;
  const tail = mutateBytes(choices, archive.subarray(end), ARCHIVES);
  return Uint8Array.from([...archive.subarray(0, end), ...tail]);
}

function check(bytes: Uint8Array): Verdict {
  const read = readMusicXml(bytes);
  if (!read.ok) {
    must(read.problems.length > 0, 'refused without a problem');
    for (const problem of read.problems) {
      must(describeMusicXmlProblem(problem).length < 1000, 'a sentence is too long to be read');
    }
    return 'refused';
  }
  const { chart, melody, notices } = read.value;
  for (const notice of notices) {
    must(describeMusicXmlNotice(notice).length < 1000, 'a notice is too long to be read');
  }
  const text = formatChart(chart);
  const parsed = parseChart(text);
  must(parsed.ok, `the chart of a score is not read: ${JSON.stringify(parsed)} ${text}`);
  must(formatChart(parsed.value) === text, 'the chart of a score changes as text');
  must(
    melodySchema.nullable().safeParse(melody).success,
    'the melody of a score is not one that can be kept',
  );
  const again = readMusicXml(encode(writeMusicXml(parsed.value, melody)));
  must(
    again.ok && sameJson(again.value.melody, melody),
    'the melody of a score changes as MusicXML',
  );
  must(
    again.ok && formatChart(again.value.chart) === text,
    'the chart of a score changes as MusicXML',
  );
  return 'accepted';
}
