/** What is seen while playing: the chord in force and the next, its palette, the totals, and the line on the page. */

import { memo, type Ref, useCallback, useLayoutEffect, useMemo, useRef, useState } from 'react';
import type { TakeSetUp } from '../../../../shared/bridge/index.ts';
import { type Form, type FormChord, NO_CHORD, PICKUP_BAR } from '../../../core/chart/index.ts';
import { refusalWords } from '../../app/refusal-words.ts';
import { type BarDrawings, createBarDrawings } from '../../chart-page/bar-drawings.ts';
import { ChartPage } from '../../chart-page/chart-page.tsx';
import { ChordName } from '../../chart-page/chord-name.tsx';
import { LineInBar, LiveBar } from '../../chart-page/line-in-bar.tsx';
import { type BarDrawing, layLine, registerFor } from '../../chart-page/line-model.ts';
import { createLiveDrawing } from '../../chart-page/live-drawing.ts';
import { drawPickup } from '../../chart-page/pickup-drawing.ts';
import { createMark } from '../../look/mark.ts';
import { LiveStrip } from '../../palette/live-strip.tsx';
import { toneMoves } from '../../palette/palette-words.ts';
import type { PlayedTake } from '../../run/index.ts';
import type { LiveVerdicts } from '../../session/live-take.ts';
import { type Moment, momentAt } from './moment.ts';
import { createShownMoment, type ShownMoment } from './shown-moment.ts';
import { totalsInWords } from './totals.ts';
import { type Told, useShown } from './use-shown.ts';

interface LiveLineProps {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  readonly tempoBpm: number;
  readonly played: PlayedTake | null;
}

const LEAD_WORDS = { countIn: 'count-in', pickup: 'pickup, then' } as const;

export function LiveLine(props: LiveLineProps) {
  const { form } = props;
  const moments = useMemo(() => {
    const resting = momentAt(form, null);
    return resting === null ? null : createShownMoment(resting);
  }, [form]);
  return moments === null ? null : <LineOf {...props} moments={moments} />;
}

interface LineOfProps extends LiveLineProps {
  readonly moments: ShownMoment;
}

function LineOf({ form, setUp, tempoBpm, played, moments }: LineOfProps) {
  const { level, slotsPerBeat } = setUp.grade;
  const draw = useMemo(
    () => createLiveDrawing(layLine(form, { level, slotsPerBeat })),
    [form, level, slotsPerBeat],
  );
  const [drawings] = useState(createBarDrawings);
  const totals = useRef<HTMLDivElement>(null);
  const told = useShown(form, played, tempoBpm, {
    line: (verdicts, chorus) => drawings.show(draw(verdicts, chorus)),
    moment: moments.show,
    totals(verdicts) {
      const text = totals.current?.firstChild;
      if (text) text.nodeValue = totalsInWords(verdicts);
    },
  });
  const pickup = usePickup(form, told?.pickup ?? NO_NOTES, told?.chorus ?? 1);
  return (
    <>
      <div className="now">
        <Now form={form} moments={moments} />
        <Totals words={totals} told={told} />
      </div>
      <Page form={form} moments={moments} drawings={drawings} pickup={pickup} />
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
  readonly moments: ShownMoment;
  readonly drawings: BarDrawings;
  readonly pickup: BarDrawing | undefined;
}

const Page = memo(({ form, moments, drawings, pickup }: PageProps) => {
  const page = useRef<HTMLDivElement>(null);
  useLayoutEffect(() => {
    const bars = page.current?.querySelectorAll('.bar') ?? [];
    const byNumber = new Map([...bars].map((bar, index) => [form.bars[index]?.bar, bar]));
    const markBar = createMark(byNumber, 'current');
    const pickups = page.current?.querySelectorAll('.pickup') ?? [];
    const markPickup = createMark(
      new Map([...pickups].map((bar) => [PICKUP_BAR, bar])),
      'sounding',
    );
    let marked: number | null = null;
    const ignore = moments.watch(({ bar }) => {
      if (bar === marked) return;
      marked = bar;
      markBar(bar);
      markPickup(bar);
      // Once the frame is done: before it, the whole page would have to be laid out to tell.
      setTimeout(() => bringIntoSight((bar === null ? null : byNumber.get(bar)) ?? null));
    });
    return () => {
      ignore();
      markBar(null);
      markPickup(null);
    };
  }, [form, moments]);
  // The same elements for the same drawings: then the bars of a page are not even compared.
  const lines = useMemo(
    () => new Map(form.bars.map(({ bar }) => [bar, <LiveBar key={bar} bar={bar} of={drawings} />])),
    [form, drawings],
  );
  return (
    <div ref={page}>
      <ChartPage form={form} inPickup={<LineInBar drawing={pickup} />}>
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

interface TotalsProps {
  /** Where the totals are put by hand. */
  readonly words: Ref<HTMLDivElement>;
  readonly told: Told | null;
}

const SOUND_WORDS = {
  doubted: 'The sound has stopped or moved. Play on: what you hear is being found again.',
  wasBroken:
    'The sound was interrupted in this take. The notes it touched are not judged; those after it are. If it happens again, close other programs or use a wired output.',
} as const;

const Totals = memo(({ words, told }: TotalsProps) => (
  <div className="totals">
    <div className="totals-words" ref={words}>
      Start, wait for the count-in, and keep the line going.
    </div>
    {told?.disconnected && (
      <p className="notice" role="alert">
        The keyboard is gone. What was played is kept; plug it in again and play on.
      </p>
    )}
    {told !== null && told.sound !== 'runs' && (
      <p className="notice" role="alert">
        {SOUND_WORDS[told.sound]}
      </p>
    )}
    {told?.journal.kind === 'waiting' && (
      <p className="notice" role="alert">
        {refusalWords(told.journal.refusal)}
      </p>
    )}
  </div>
));

interface NowProps {
  readonly form: Form;
  readonly moments: ShownMoment;
}

/** The chord in force, the next and their tones, put on the page by hand: what may be shown is laid out from the start. */
const Now = memo(({ form, moments }: NowProps) => {
  const chords = useMemo(
    () => [...(form.pickup?.chords ?? []), ...form.bars.flatMap((bar) => bar.chords)],
    [form],
  );
  const names = useMemo(() => [...new Set(chords.map(nameOf))], [chords]);
  const now = useRef<HTMLSpanElement>(null);
  const next = useRef<HTMLSpanElement>(null);
  const lead = useRef<HTMLSpanElement>(null);
  useLayoutEffect(() => {
    const markNow = createMark(namesIn(now.current, names), 'seen');
    const markNext = createMark(namesIn(next.current, names), 'seen');
    let led: Moment['before'] | undefined;
    const ignore = moments.watch((moment) => {
      markNow(nameOf(moment.chord));
      markNext(nameOf(moment.next));
      if (lead.current === null || moment.before === led) return;
      led = moment.before;
      lead.current.textContent = led === null ? 'then ' : `${LEAD_WORDS[led]} `;
    });
    return () => {
      ignore();
      markNow(null);
      markNext(null);
    };
  }, [moments, names]);
  const watchTones = useCallback(
    (put: (moves: ReturnType<typeof toneMoves>) => void) =>
      moments.watch((moment) =>
        put(toneMoves(moment.chord, moment.isNear ? moment.next : moment.chord)),
      ),
    [moments],
  );
  return (
    <>
      <div className="now-chord">
        <Names ref={now} names={names} />
      </div>
      <div className="next-chord">
        <span className="soft" ref={lead} />
        <Names ref={next} names={names} />
      </div>
      <LiveStrip chords={chords} watch={watchTones} />
    </>
  );
});

const nameOf = ({ symbol }: FormChord): string => symbol?.text ?? NO_CHORD;

interface NamesProps {
  readonly names: readonly string[];
  readonly ref: Ref<HTMLSpanElement>;
}

function Names({ names, ref }: NamesProps) {
  return (
    <span className="names" ref={ref}>
      {names.map((name) => (
        <ChordName key={name} text={name} />
      ))}
    </span>
  );
}

function namesIn(place: HTMLSpanElement | null, names: readonly string[]): Map<string, Element> {
  return new Map([...(place?.children ?? [])].map((name, index) => [names[index] ?? '', name]));
}
