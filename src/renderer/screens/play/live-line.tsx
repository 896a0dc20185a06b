/** What is seen while playing: the chord in force and the next, its palette, the totals, and the line on the page. */

import { memo, useEffect, useMemo, useRef, useState } from 'react';
import type { TakeSetUp } from '../../../../shared/bridge/index.ts';
import { type Form, NO_CHORD } from '../../../core/chart/index.ts';
import { refusalWords } from '../../app/refusal-words.ts';
import { ChartPage } from '../../chart-page/chart-page.tsx';
import { ChordName } from '../../chart-page/chord-name.tsx';
import { LineInBar } from '../../chart-page/line-in-bar.tsx';
import {
  type BarDrawing,
  drawChorus,
  keepUnchanged,
  registerFor,
} from '../../chart-page/line-model.ts';
import type { LiveVerdicts } from '../../session/live-take.ts';
import type { PlayedTake } from '../../session/stand.ts';
import { KeyboardStrip } from './keyboard-strip.tsx';
import { placeInForm, toneMoves } from './palette-words.ts';
import { totalsInWords } from './totals.ts';

interface LiveLineProps {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  readonly tempoBpm: number;
  readonly played: PlayedTake | null;
}

type Drawings = ReadonlyMap<number, BarDrawing>;
const NOTHING: Drawings = new Map();

/** Within this many beats of a change, its tones are told apart. */
const NEAR_BEATS = 1;

export function LiveLine({ form, setUp, tempoBpm, played }: LiveLineProps) {
  const beat = useBeat(played, tempoBpm);
  const verdicts = played?.take.snapshot() ?? null;
  const place = placeInForm(form, beat ?? 0);
  const chorus = place?.chorus ?? 1;
  const drawings = useDrawings(form, setUp, verdicts, chorus);
  if (place === null) return null;
  const counting = beat !== null && beat < 0;
  return (
    <>
      <div className="now">
        <div className="now-chord" aria-live="off">
          <ChordName text={place.chord.symbol?.text ?? NO_CHORD} />
        </div>
        <div className="next-chord">
          <span className="soft">{counting ? 'count-in' : 'then'} </span>
          <ChordName text={place.next.symbol?.text ?? NO_CHORD} />
        </div>
        <Tones chord={place.chord} next={place.next} near={place.beatsLeft <= NEAR_BEATS} />
        <Totals verdicts={verdicts} />
      </div>
      <Page
        form={form}
        currentBar={beat === null || counting ? null : place.bar}
        drawings={drawings}
      />
    </>
  );
}

/** The beat position under way, told every frame; null when nothing is played. */
function useBeat(played: PlayedTake | null, tempoBpm: number): number | null {
  const [, setFrame] = useState(0);
  useEffect(() => {
    if (played === null) return;
    let frame = 0;
    const paint = (): void => {
      played.take.tick(performance.now());
      setFrame((count) => count + 1);
      frame = requestAnimationFrame(paint);
    };
    frame = requestAnimationFrame(paint);
    return () => cancelAnimationFrame(frame);
  }, [played]);
  if (played === null) return null;
  return ((performance.now() - played.performance.downbeatAtMs) * tempoBpm) / 60_000;
}

/** The chorus as drawn, bar by bar; a bar in which nothing changed keeps its drawing, and is not drawn again. */
function useDrawings(
  form: Form,
  setUp: TakeSetUp,
  verdicts: LiveVerdicts | null,
  chorus: number,
): Drawings {
  const before = useRef(NOTHING);
  const { level, slotsPerBeat } = setUp.grade;
  const drawings = useMemo(() => {
    if (verdicts === null) return NOTHING;
    const { settled, heard, changes } = verdicts;
    const settledMidis = settled.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    const heardMidis = [...heard.values()].map(({ midi }) => midi);
    const register = registerFor([...settledMidis, ...heardMidis]);
    const source = { form, level, slotsPerBeat, settled, heard, changes };
    return keepUnchanged(before.current, drawChorus(source, chorus, register));
  }, [verdicts, form, level, slotsPerBeat, chorus]);
  before.current = drawings;
  return drawings;
}

interface PageProps {
  readonly form: Form;
  readonly currentBar: number | null;
  readonly drawings: Drawings;
}

const Page = memo(({ form, currentBar, drawings }: PageProps) => (
  <ChartPage form={form} currentBar={currentBar}>
    {({ bar }) => <LineInBar drawing={drawings.get(bar)} />}
  </ChartPage>
));

function Totals({ verdicts }: { readonly verdicts: LiveVerdicts | null }) {
  return (
    <div className="totals">
      {verdicts === null
        ? 'Start, wait for the count-in, and keep the line going.'
        : totalsInWords(verdicts)}
      {verdicts?.disconnected && (
        <p className="notice" role="alert">
          The keyboard is gone. What was played is kept; plug it in again and play on.
        </p>
      )}
      {verdicts?.journal.kind === 'waiting' && (
        <p className="notice" role="alert">
          {refusalWords(verdicts.journal.refusal)}
        </p>
      )}
    </div>
  );
}

interface TonesProps {
  readonly chord: Parameters<typeof toneMoves>[0];
  readonly next: Parameters<typeof toneMoves>[1];
  readonly near: boolean;
}

function Tones({ chord, next, near }: TonesProps) {
  const moves = useMemo(() => toneMoves(chord, near ? next : chord), [chord, next, near]);
  return <KeyboardStrip moves={moves} />;
}
