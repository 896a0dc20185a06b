/** The take heard again: from a place on, at any speed, with click, bass and chords. */

import { useMemo, useState } from 'react';
import type { TakeRecord } from '../../../../shared/bridge/index.ts';
import { beatsPerBar, type Form } from '../../../core/chart/index.ts';
import { type BeatClock, createBeatClock } from '../../../core/grid/index.ts';
import { useProgram } from '../../app/program.tsx';
import { cutPassage, mergeScores, takeScore } from '../../audio/index.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { CheckField, SelectField } from '../../look/fields.tsx';
import { placeInForm } from '../../palette/palette-words.ts';
import { recordedTake } from '../../prepare/recorded-take.ts';
import { accompaniment } from '../../session/accompaniment.ts';
import { useHearing } from '../../session/use-hearing.ts';

export interface TakePlace {
  readonly chorus: number;
  readonly bar: number;
}

interface HearTakeProps {
  readonly record: TakeRecord;
  readonly form: Form;
  /** Null: from the first bar. */
  readonly place: TakePlace | null;
  /** Told the bar that sounds, and null when it is over. */
  readonly onBar: (place: TakePlace | null) => void;
}

const SPEEDS = [0.5, 0.6, 0.7, 0.8, 0.9, 1, 1.1, 1.25].map((value) => ({
  value,
  words: `${Math.round(value * 100)} %`,
}));
/** Bars heard from a place: the one before, for the ear, the place, and the one after. */
const BARS_AROUND = 1;

export function HearTake({ record, form, place, onBar }: HearTakeProps) {
  const { settings } = useProgram();
  const [speed, setSpeed] = useState(1);
  const [withClick, setWithClick] = useState(true);
  const { isPlaying, failure, hear: start, stop } = useHearing();
  const { grade } = record.setUp;
  const clock = useMemo(() => createBeatClock(form, grade.tempo), [form, grade.tempo]);

  function hear(from: TakePlace | null): void {
    const take = takeScore(recordedTake(record), grade);
    const played = {
      ...grade,
      choruses: from === null ? wholeChoruses(record, form, clock) : null,
    };
    const score = withClick
      ? mergeScores(take.values(), accompaniment(form, played, settings.sound))
      : take.values();
    const fromMs =
      from === null ? startMs(form, clock) : barTimeMs(form, clock, from, -BARS_AROUND);
    const toMs = from === null ? null : barTimeMs(form, clock, from, 1 + BARS_AROUND);
    const passage = cutPassage({ [Symbol.iterator]: () => score }, { fromMs, toMs, speed });
    void start(passage, (timeMs) => {
      const takeMs = timeMs === null ? null : Math.max(fromMs, timeMs * speed + fromMs);
      onBar(takeMs === null ? null : placeInForm(form, clock.beatAt(takeMs)));
    });
  }

  return (
    <div className="row hear">
      <button type="button" onClick={() => (isPlaying ? stop() : hear(null))}>
        {isPlaying ? 'Stop' : 'Hear the take'}
      </button>
      {place !== null && !isPlaying && (
        <button type="button" onClick={() => hear(place)}>
          Hear chorus {place.chorus}, bar {place.bar}
        </button>
      )}
      <SelectField label="Speed" value={speed} options={SPEEDS} onChange={setSpeed} />
      <CheckField
        label="with click, bass and chords as set"
        checked={withClick}
        onChange={setWithClick}
      />
      <FailureNotice words={failure} />
    </div>
  );
}

function chorusBeats(form: Form): number {
  return form.bars.reduce((sum, { meter }) => sum + beatsPerBar(meter), 0);
}

function wholeChoruses(record: TakeRecord, form: Form, clock: BeatClock): number {
  return Math.max(1, Math.ceil(clock.beatAt(record.row.endMs) / chorusBeats(form) - 0.05));
}

/** The first note of a pickup may have come this much early, in beats. */
const EARLY_BEATS = 0.25;

/** Where the take begins to be heard: at the first downbeat, or with the pickup. */
function startMs({ pickup }: Form, clock: BeatClock): number {
  return pickup === null ? 0 : clock.timeMs(-pickup.beats - EARLY_BEATS);
}

/** When a bar begins that lies so many bars after a place, not before the take. */
function barTimeMs(form: Form, clock: BeatClock, place: TakePlace, offset: number): number {
  const index = form.bars.findIndex(({ bar }) => bar === place.bar);
  const at = Math.max(0, (place.chorus - 1) * form.bars.length + index + offset);
  const chorus = Math.floor(at / form.bars.length);
  const before = form.bars.slice(0, at % form.bars.length);
  const beats = before.reduce((sum, { meter }) => sum + beatsPerBar(meter), 0);
  return clock.timeMs(chorus * chorusBeats(form) + beats);
}
