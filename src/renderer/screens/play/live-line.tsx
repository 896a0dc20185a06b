/** What is seen while playing: the chord in force and the next, its palette, the totals, and the line on the page. */

import { memo, useEffect, useMemo, useRef, useState } from 'react';
import type { TakeSetUp } from '../../../../shared/bridge/index.ts';
import { type Form, NO_CHORD } from '../../../core/chart/index.ts';
import { refusalWords } from '../../app/refusal-words.ts';
import { type BarDrawings, createBarDrawings } from '../../chart-page/bar-drawings.ts';
import { ChartPage } from '../../chart-page/chart-page.tsx';
import { ChordName } from '../../chart-page/chord-name.tsx';
import { LineInBar, LiveBar } from '../../chart-page/line-in-bar.tsx';
import { type BarDrawing, layLine, registerFor } from '../../chart-page/line-model.ts';
import { createLiveDrawing } from '../../chart-page/live-drawing.ts';
import { drawPickup } from '../../chart-page/pickup-drawing.ts';
import { KeyboardStrip } from '../../palette/keyboard-strip.tsx';
import { toneMoves } from '../../palette/palette-words.ts';
import type { LiveVerdicts } from '../../session/live-take.ts';
import type { PlayedTake } from '../../session/start-playing.ts';
import { totalsInWords } from './totals.ts';
import { useShown } from './use-shown.ts';

interface LiveLineProps {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  readonly tempoBpm: number;
  readonly played: PlayedTake | null;
}

const LEAD_WORDS = { countIn: 'count-in', pickup: 'pickup, then' } as const;

export function LiveLine({ form, setUp, tempoBpm, played }: LiveLineProps) {
  const { level, slotsPerBeat } = setUp.grade;
  const draw = useMemo(
    () => createLiveDrawing(layLine(form, { level, slotsPerBeat })),
    [form, level, slotsPerBeat],
  );
  const [drawings] = useState(createBarDrawings);
  const { moment, verdicts } = useShown(form, played, tempoBpm, (verdictsNow, chorus) =>
    drawings.show(draw(verdictsNow, chorus)),
  );
  const pickup = usePickup(form, verdicts?.pickup ?? NO_NOTES, moment?.chorus ?? 1);
  if (moment === null) return null;
  const { chord, next, isNear, before, bar } = moment;
  return (
    <>
      <div className="now">
        <div className="now-chord">
          <ChordName text={chord.symbol?.text ?? NO_CHORD} />
        </div>
        <div className="next-chord">
          <span className="soft">{before === null ? 'then' : LEAD_WORDS[before]} </span>
          <ChordName text={next.symbol?.text ?? NO_CHORD} />
        </div>
        <Tones chord={chord} next={next} near={isNear} />
        <Totals verdicts={verdicts} />
      </div>
      <Page form={form} currentBar={bar} drawings={drawings} pickup={pickup} />
    </>
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
  readonly drawings: BarDrawings;
  readonly pickup: BarDrawing | undefined;
}

const Page = memo(({ form, currentBar, drawings, pickup }: PageProps) => {
  const page = useRef<HTMLDivElement>(null);
  useEffect(() => {
    if (currentBar !== null) bringIntoSight(page.current?.querySelector('.bar.current') ?? null);
  }, [currentBar]);
  // The same elements for the same drawings: then the bars of a page are not even compared.
  const lines = useMemo(
    () => new Map(form.bars.map(({ bar }) => [bar, <LiveBar key={bar} bar={bar} of={drawings} />])),
    [form, drawings],
  );
  return (
    <div ref={page}>
      <ChartPage form={form} currentBar={currentBar} inPickup={<LineInBar drawing={pickup} />}>
        {({ bar }) => lines.get(bar)}
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
