/** What each screen is for, what its keys are, and the words it uses, in the sense of the grading rules. */

import type { Screen } from '../../app/screen.ts';

export interface HelpPage {
  readonly title: string;
  readonly paragraphs: readonly string[];
  readonly words: readonly (readonly [word: string, meaning: string])[];
}

const FAULT_WORDS: HelpPage['words'] = [
  [
    'slot',
    'one place on the metronome grid where the line owes a note; two to the beat unless set otherwise',
  ],
  ['clean', 'a slot with no fault'],
  ['gap', 'no note fills the slot (drawn as a dashed upright; the stroke of the line breaks)'],
  [
    'early, late',
    'the note lies further from its slot than the tolerance (a short bar before or after it)',
  ],
  ['outside', 'the note is not in the palette of the chord in force (a diamond)'],
  ['interval', 'the step from the note before is not open at this level (a triangle)'],
  ['extra', 'more notes than the slot owed (a ring)'],
];

const CHANGE_WORDS: HelpPage['words'] = [
  ['change', 'a chord boundary at which the palette’s notes differ'],
  ['on time', 'a note only the new palette has came before any note only the old one has'],
  ['late by', 'how many slots went by until the last note of the old palette (a hatch that long)'],
  ['unproven', 'common tones only: nobody can hear whether the change was made'],
];

const PRACTICE_WORDS: HelpPage['words'] = [
  ['chart', 'a tune’s form: meter, key, sections, bars, and chords placed on beats'],
  ['plan', 'one choice of chords and palettes over the form; every chart has the plan “plain”'],
  ['palette', 'the notes open to the line while a chord lasts'],
  ['level', 'which intervals the line may use: steps, thirds, leaps, free'],
  ['chorus', 'one pass through the form'],
];

export const HELP: Readonly<Record<Screen['name'], HelpPage>> = {
  choose: {
    title: 'Charts',
    paragraphs: [
      'Choose a chart, how it is to be played, and Play. A range of bars is looped; “endless” goes on until you stop. With “let the tempo follow the line” endless play raises or eases the tempo by the rule of readiness, told and counted in. With an order of keys chosen, the next key follows after the choruses of each, with a count-in, until you stop.',
      'With “hear a line” an example chorus is heard before each of your own, until you stop: another one each time, which goes on from your last note where that lies in its register. Register and shape are those set under the example line.',
      'An example line is written for the bars, level and grid chosen: clean by the same rules your own line is graded by, every change shown as early as it can be. Another line, another shape or register is a click away, and so are drills, each with what the grader says of it. A line or drill begins anywhere, or on or after the key you play.',
      'A MusicXML score brings its melody: it is kept beside the chart and shown over the chords under “Melody”, moves with the key, and goes out again with “Save as MusicXML”. Where bars were added or removed since, the program says so and shows none.',
      'Chart files (.changes) and recorded takes (.mid) can be dropped anywhere on the page.',
      'Keys: Tab and Shift+Tab go through everything, Enter presses, ↑ and ↓ go through the list of charts, F1 opens this help.',
    ],
    words: PRACTICE_WORDS,
  },
  edit: {
    title: 'Editing a chart',
    paragraphs: [
      'Text and page are the same chart: change either. Bars stand between |, chords share the beats of their bar, / holds a chord for another beat, % repeats the bar before, N.C. is a bar without a chord.',
      '|: and :| repeat, |1 and |2 begin endings, || is a double bar, [A] begins a section, (3/4) alone between bars changes the meter. A header line pickup: 1 begins the tune a beat before bar 1, pickup: 3/8 three eighths, pickup: 2 Dm7 G7 two beats with chords of their own; what is played there is kept and not judged, and in later choruses the last bar holds it. plan: and a name begins another plan with as many bars. What is wrong is underlined, with what was expected and the nearest spelling.',
      'On the page: arrow keys go from chord to chord, a letter or Enter types a bar, Enter goes on to the next, Escape leaves it as it was. Alt+↑ and Alt+↓ move a bar by a semitone, Insert adds a bar, Delete takes it out. Up from the first row stands the pickup: Enter or a figure types it. F6 goes from the page to the text and back. Every step can be undone, by Ctrl+Z too, and made again by Ctrl+Y.',
    ],
    words: PRACTICE_WORDS,
  },
  sheet: {
    title: 'Practice sheet',
    paragraphs: [
      'One chart for the music stand: the page with its palettes, an example line for each level, and the tempos from here to the goal, each to be ticked when it holds. Print it on A4 or Letter, or save it as a PDF from the same dialog.',
    ],
    words: PRACTICE_WORDS,
  },
  today: {
    title: 'Today',
    paragraphs: [
      'A session for the minutes there are: what is due again before it is lost, what is close to a faster tempo, a place that surely breaks, and something new, each with its reason. Breaks are part of it. Move an item, keep it for the next proposal, or leave it out for today: what stands in for it comes from the same kind if there is any.',
      'When something is due is told from how its days went, not from what one thinks of them: the better and the longer ago, the later. Playing stops at the minutes you allow yourself in a day.',
    ],
    words: [
      ['due', 'by now there is a fair chance that it is no longer as it was'],
      ['weak place', 'bars whose clean rate is surely under the nine in ten that a raise needs'],
      ...PRACTICE_WORDS,
    ],
  },
  progress: {
    title: 'Progress',
    paragraphs: [
      'Each chart with its plan, key and level has a tempo that holds: the fastest at which at least two choruses and 64 slots were surely nine in ten clean, nine changes in ten came on time, and no bar was under three in four. From there the next tempo is a press away.',
      'In the plot a full dot is a take with nine slots in ten clean, a ring one with fewer; under it stands the clean rate and how sure it is. Of a long history all takes of some days at one tempo are one dot. Press one to look at its take. The bars that broke most can be drilled alone: slower, again and again, with the tempo following the line until it holds.',
      'An interval says between which shares the clean rate surely lies: few notes leave it wide. Faults that come in clusters, several slots of a bar at once and another bar each time, leave it wider, for they are fewer accidents than slots; more than three choruses are then looked at. The same bars wrong in every chorus do not: they are places to drill.',
      'Under Ladder stand the rungs of a chart. Under Where it breaks are four pictures over many takes; a cell tells the share that went wrong and leads to the takes behind it.',
    ],
    words: [
      ['raise, hold, ease', 'what to do with the tempo, by the rule of readiness'],
      ['drill', 'some bars of a form alone; drills are not counted as progress of the whole'],
      ...PRACTICE_WORDS,
    ],
  },
  journal: {
    title: 'Journal',
    paragraphs: [
      'What was practised and when. A day of the month tells the minutes played, and its tint grows with them; press it to see its sessions alone. A session has its charts with levels, keys, tempos and clean rate, its takes, each a press away from its review, and a remark of yours, saved as you type.',
      'In the month: arrow keys go by days and weeks, Home and End to Monday and Sunday, Page Up and Page Down by months, Enter chooses the day.',
      'A search goes through all years: every word must be in a title, a remark, a plan or a level, or be a key. What is listed can be saved as a table. The report for a teacher tells a span of days on a page to print; your remarks are on it only if you say so.',
    ],
    words: [
      ['session', 'takes less than half an hour apart'],
      ['minutes played', 'the lengths of the takes summed, pauses not counted'],
      [
        'stands',
        'at least 64 slots at a tempo over the whole form, nine in ten of them clean; for “holds”, which asks for more, see Progress',
      ],
      ...PRACTICE_WORDS,
    ],
  },
  play: {
    title: 'Playing',
    paragraphs: [
      'Start, listen to the count-in, and play one note for each slot without a stop. The line is drawn through the chart as you play: hollow until a note is settled. Esc stops, F fills the screen.',
      'A bar of a longer form is replaced by a later one once it was played; below, the form is one line, broken where yours broke.',
    ],
    words: [...FAULT_WORDS, ...CHANGE_WORDS],
  },
  review: {
    title: 'Review',
    paragraphs: [
      'The stronger a bar’s tint, the less of it was clean. Every finding, and every cell of the heatmaps, leads to its place and lets you hear it.',
      'Hear the take with click and chords at any speed, compare it with another take of the same chart, keep a remark, save it as MIDI, CSV or JSON, or print the page.',
    ],
    words: [...FAULT_WORDS, ...CHANGE_WORDS],
  },
  open: {
    title: 'Opening a MIDI file',
    paragraphs: [
      'Choose the chart it was played on. The notes should lie on the lines: if they do not, set the tempo or the first downbeat until they do. Files saved here carry both.',
    ],
    words: [
      ['first downbeat', 'beat 1 of bar 1 after the count-in: the zero of the take’s clock'],
      ['split', 'the lowest key of the line; keys below it are the left hand'],
      ...PRACTICE_WORDS,
    ],
  },
  settings: {
    title: 'Settings',
    paragraphs: [
      'A keyboard appears by itself when it is plugged in; of two with one name the second is numbered. Calibrate each with the sound you play to, and set its split by playing a key. Split and channel go with the keyboard, latency with the keyboard and where the click sounds from. Several may be played at once.',
      'The computer keys are sounded by the computer. A keyboard without a voice of its own can be sounded too.',
      'Silent bars test the time within: click, bass and pad rest, and the line goes on.',
      'The library is backed up every day by itself. Export everything now and then too, and keep it on another disk: it is one zip of charts as text and takes as MIDI, and can be imported here or elsewhere.',
    ],
    words: [
      ['latency', 'how late your keys arrive after the click is heard; taken off every onset'],
      ['split', 'the lowest key of the line; keys below it are the left hand'],
      ['channel', 'the one MIDI channel that is listened to; “all” unless set'],
    ],
  },
  calibrate: {
    title: 'Calibration',
    paragraphs: [
      'Play along with sixteen clicks. The offset is the median of your keys, after keys far from it were left out.',
    ],
    words: [
      ['offset', 'how late your keys arrive; early ones give a negative one'],
      ['spread', 'how far they scatter: the standard deviation'],
    ],
  },
};
