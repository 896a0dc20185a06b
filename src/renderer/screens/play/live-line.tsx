/** What is seen while playing: the chord in force and the next, its palette, the totals, and the line on the page. */

import { memo, type ReactElement, useEffect, useMemo, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import type { TakeSetUp } from '../../../../shared/bridge/index.ts';
import { type Form, NO_CHORD, PICKUP_BAR } from '../../../core/chart/index.ts';
import { refusalWords } from '../../app/refusal-words.ts';
import { ChartPage } from '../../chart-page/chart-page.tsx';
import { ChordName } from '../../chart-page/chord-name.tsx';
import { LineInBar } from '../../chart-page/line-in-bar.tsx';
import { type BarDrawing, layLine, registerFor } from '../../chart-page/line-model.ts';
import { createLiveDrawing, type Drawings } from '../../chart-page/live-drawing.ts';
import { drawPickup } from '../../chart-page/pickup-drawing.ts';
import { KeyboardStrip } from '../../palette/keyboard-strip.tsx';
import { placeInForm, toneMoves } from '../../palette/palette-words.ts';
import type { LiveVerdicts } from '../../session/live-take.ts';
import type { PlayedTake } from '../../session/start-playing.ts';
import { totalsInWords } from './totals.ts';

interface LiveLineProps {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  readonly tempoBpm: number;
  readonly played: PlayedTake | null;
}

const NOTHING: Drawings = new Map();

/** Within this many beats of a change, its tones are told apart. */
const NEAR_BEATS = 1;

export function LiveLine({ form, setUp, tempoBpm, played }: LiveLineProps) {
  const beat = useBeat(played, tempoBpm);
  const verdicts = played?.take.snapshot() ?? null;
  const place = placeInForm(form, beat ?? 0);
  const chorus = place?.chorus ?? 1;
  const drawings = useDrawings(form, setUp.grade, verdicts, chorus);
  const pickup = usePickup(form, verdicts?.pickup ?? NO_NOTES, chorus);
  if (place === null) return null;
  const counting = beat !== null && beat < 0;
  const inPickup = place?.bar === PICKUP_BAR;
  return (
    <>
      <div className="now">
        <div className="now-chord">
          <ChordName text={place.chord.symbol?.text ?? NO_CHORD} />
        </div>
        <div className="next-chord">
          <span className="soft">
            {inPickup ? 'pickup, then' : counting ? 'count-in' : 'then'}{' '}
          </span>
          <ChordName text={place.next.symbol?.text ?? NO_CHORD} />
        </div>
        <Tones chord={place.chord} next={place.next} near={place.beatsLeft <= NEAR_BEATS} />
        <Totals verdicts={verdicts} />
      </div>
      <Page
        form={form}
        currentBar={beat === null || (counting && !inPickup) ? null : place.bar}
        drawings={drawings}
        pickup={pickup}
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
      // Within this very frame: left to itself, React would draw after it, and be seen with the next.
      flushSync(() => setFrame((count) => count + 1));
      frame = requestAnimationFrame(paint);
    };
    frame = requestAnimationFrame(paint);
    return () => cancelAnimationFrame(frame);
  }, [played]);
  if (played === null) return null;
  return ((performance.now() - played.performance.downbeatAtMs) * tempoBpm) / 60_000;
}

/** The chorus as drawn, bar by bar. */
function useDrawings(
  form: Form,
  { level, slotsPerBeat }: TakeSetUp['grade'],
  verdicts: LiveVerdicts | null,
  chorus: number,
): Drawings {
  const draw = useMemo(
    () => createLiveDrawing(layLine(form, { level, slotsPerBeat })),
    [form, level, slotsPerBeat],
  );
  return useMemo(
    () => (verdicts === null ? NOTHING : draw(verdicts, chorus)),
    [draw, verdicts, chorus],
  );
}

const NO_NOTES: LiveVerdicts['pickup'] = [];

/** The pickup as drawn: it is played before the first chorus alone. */
function usePickup(
  form: Form,
  notes: LiveVerdicts['pickup'],
  chorus: number,
): BarDrawing | undefined {
  return useMemo(() => {
    if (chorus > 1) return undefined;
    return drawPickup(form, notes, registerFor(notes.map(({ midi }) => midi)));
  }, [form, notes, chorus]);
}

interface PageProps {
  readonly form: Form;
  readonly currentBar: number | null;
  readonly drawings: Drawings;
  readonly pickup: BarDrawing | undefined;
}

const EMPTY_BAR = <LineInBar drawing={undefined} />;

const Page = memo(({ form, currentBar, drawings, pickup }: PageProps) => {
  // The same element for the same drawing: then a bar is not even compared.
  const elements = useRef(new WeakMap<BarDrawing, ReactElement>());
  function lineIn(drawing: BarDrawing | undefined): ReactElement {
    if (drawing === undefined) return EMPTY_BAR;
    const element = elements.current.get(drawing) ?? <LineInBar drawing={drawing} />;
    elements.current.set(drawing, element);
    return element;
  }
  const page = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (currentBar !== null) bringIntoSight(page.current?.querySelector('.bar.current') ?? null);
  }, [currentBar]);
  return (
    <div ref={page}>
      <ChartPage form={form} currentBar={currentBar} inPickup={lineIn(pickup)}>
        {({ bar }) => lineIn(drawings.get(bar))}
      </ChartPage>
    </div>
  );
});

/** At once, without motion, and only when the bar or the row after it is out of sight. */
function bringIntoSight(bar: Element | null): void {
  if (bar === null) return;
  const { top, bottom, height } = bar.getBoundingClientRect();
  const isSeen = top > height && bottom + height < window.innerHeight;
  if (!isSeen) bar.scrollIntoView({ block: 'center', behavior: 'instant' });
}

/** Counted anew when a verdict is, not with every frame. */
const Totals = memo(({ verdicts }: { readonly verdicts: LiveVerdicts | null }) => {
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
});

interface TonesProps {
  readonly chord: Parameters<typeof toneMoves>[0];
  readonly next: Parameters<typeof toneMoves>[1];
  readonly near: boolean;
}

function Tones({ chord, next, near }: TonesProps) {
  const moves = useMemo(() => toneMoves(chord, near ? next : chord), [chord, next, near]);
  return <KeyboardStrip moves={moves} />;
}
