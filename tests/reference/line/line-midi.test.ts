/** The MIDI file of a written line, read by an unrelated library (midi-file 1.2.4): the same keys at the same times. */

import { parseMidi } from 'midi-file';
import { expect, test } from 'vitest';
import { lineMidi, writeLine } from '../../../src/core/line/index.ts';
import { LEVELS } from '../../../src/core/words.ts';
import { formFromText } from '../../helpers/form-from-text.ts';

test.each(LEVELS)('a line at %s has its notes and onsets', (level) => {
  const form = formFromText('| Dm7 | G7 | Cmaj7 | A7b9 |');
  const line = writeLine(form, {
    ...{
      level,
      choruses: 1,
      slotsPerBeat: null,
      swing: 2,
      seed: 3,
      density: 0.4,
      startMidi: null,
      style: 'teaching',
      direction: 0,
    },
    register: { lowestMidi: 55, highestMidi: 84 },
  });
  if (!line.ok) throw new Error('no line');
  const file = parseMidi(lineMidi(form, line.value, 90, 'A line'));
  const { ticksPerBeat = 0 } = file.header;
  const heard = file.tracks.flatMap((track) => {
    let tick = 0;
    return track.flatMap((event) => {
      tick += event.deltaTime;
      return event.type === 'noteOn' && event.velocity > 0
        ? [{ midi: event.noteNumber, beat: tick / ticksPerBeat }]
        : [];
    });
  });
  const { notes, closing } = line.value;
  expect(closing).not.toBeNull();
  const sounds = [...notes, ...(closing === null ? [] : [closing])];
  expect(heard.map(({ midi }) => midi)).toEqual(sounds.map(({ midi }) => midi));
  sounds.forEach(({ onsetBeats }, index) => {
    expect(heard[index]?.beat).toBeCloseTo(onsetBeats, 2);
  });
});
