/** The page of a chart under edit: chosen and typed by keyboard or mouse, always the same text as beside it. */

import '../../chart-page/chart-page.css';
import {
  type KeyboardEvent,
  startTransition,
  useCallback,
  useLayoutEffect,
  useRef,
  useState,
} from 'react';
import { BarCell } from './bar-cell.tsx';
import type { TypingEnd } from './bar-field.tsx';
import { type PageBar, type PagePickup, type PagePlace, PICKUP_PLACE } from './page-model.ts';
import { PickupCell } from './pickup-cell.tsx';

interface EditPageProps {
  readonly bars: readonly PageBar[];
  readonly pickup: PagePickup;
  readonly place: PagePlace;
  /** What stands in a bar now: the bars may be a keystroke behind. */
  readonly contentOf: (bar: number) => string;
  readonly onPlace: (place: PagePlace) => void;
  readonly onBar: (bar: number, content: string) => void;
  /** Told what the pickup is to say; empty for none. */
  readonly onPickup: (content: string) => void;
  readonly onTranspose: (bar: number, semitones: number) => void;
  readonly onAdd: (after: number) => void;
  readonly onRemove: (bar: number) => void;
}

/** What can be done at the pickup: typing it, taking it out, going on. */
const PICKUP_KEYS = /^(?:Arrow(?:Up|Down|Left|Right)|Home|End|Enter|F2|Delete|\d)$/u;

export function EditPage(props: EditPageProps) {
  const { bars, pickup, place, onPlace, onBar, onPickup, onTranspose, onAdd, onRemove } = props;
  const page = useRef<HTMLElement>(null);
  const [typing, setTyping] = useState<{ readonly bar: number; readonly start: string } | null>(
    null,
  );
  /** Focus follows the place only after a key: a mouse click has it already. */
  const follow = useRef(false);
  const latest = useRef(props);

  // With the drawing itself: left for later, it could run after the next key, and lead to the place before.
  useLayoutEffect(() => {
    latest.current = props;
    if (!follow.current || typing !== null) return;
    follow.current = false;
    chordButton(page.current, place)?.focus();
  });

  const type = useCallback((bar: number) => {
    const { pickup: before, contentOf } = latest.current;
    setTyping({ bar, start: bar === PICKUP_PLACE ? before.text : contentOf(bar) });
  }, []);
  const typed = useCallback((bar: number, content: string | null, end: TypingEnd) => {
    const { bars: now, pickup: before, contentOf } = latest.current;
    const { onBar: put, onPlace: go, onAdd: add } = latest.current;
    if (bar === PICKUP_PLACE) {
      const said = content?.trim() ?? null;
      if (said !== null && said !== before.text) latest.current.onPickup(said);
      go({ bar: end === 'next' ? 0 : PICKUP_PLACE, chord: 0 });
      follow.current = end !== 'stay' || content === null;
      setTyping(null);
      return;
    }
    const words = content?.replaceAll('|', ' ').trim() ?? '';
    const next = bar + (end === 'next' ? 1 : end === 'back' ? -1 : 0);
    // Typing on past the last bar writes the tune on.
    const isNew = next >= now.length && words !== '';
    const isThere = isNew || (next >= 0 && next < now.length);
    const goesOn = end !== 'stay' && isThere;
    // The next key is not to wait until a long chart is read, or a palette shown.
    startTransition(() => {
      if (words !== '' && words !== contentOf(bar)) put(bar, words);
      if (isNew) add(bar);
      if (goesOn) go({ bar: next, chord: 0 });
    });
    if (!goesOn) go({ bar: isThere ? next : bar, chord: 0 });
    follow.current = end !== 'stay' || content === null;
    setTyping(goesOn ? { bar: next, start: contentOf(next) } : null);
  }, []);

  function move(next: PagePlace): void {
    follow.current = true;
    onPlace(next);
  }

  function onKey(event: KeyboardEvent): void {
    if (typing !== null || event.ctrlKey || event.metaKey) return;
    const { bar } = place;
    const isArrowUpDown = event.key === 'ArrowUp' || event.key === 'ArrowDown';
    const sign = event.key === 'ArrowUp' || event.key === 'ArrowLeft' ? -1 : 1;
    const isPickup = bar === PICKUP_PLACE;
    if (isPickup && !PICKUP_KEYS.test(event.key)) return;
    if (event.altKey && isArrowUpDown) onTranspose(bar, -sign);
    else if (event.altKey) return;
    else if (isArrowUpDown) {
      const next = bar + sign * barsInRow(page.current);
      if (bar === PICKUP_PLACE && sign > 0) move({ bar: 0, chord: 0 });
      else if (bar >= 0 && next < 0) move({ bar: PICKUP_PLACE, chord: 0 });
      else if (next >= 0 && next < bars.length) move({ bar: next, chord: 0 });
    } else if (event.key === 'ArrowLeft' || event.key === 'ArrowRight') {
      const next = neighbour(page.current, place, sign);
      if (next !== null) move(next);
    } else if (event.key === 'Home') move({ bar: 0, chord: 0 });
    else if (event.key === 'End') move({ bar: bars.length - 1, chord: 0 });
    else if (event.key === 'Enter' || event.key === 'F2') type(bar);
    else if (isPickup && event.key === 'Delete') {
      follow.current = true;
      onPickup('');
    } else if (isPickup && /^\d$/u.test(event.key)) setTyping({ bar, start: event.key });
    else if (event.key === 'Insert') {
      follow.current = true;
      onAdd(bar);
    } else if (event.key === 'Delete') {
      follow.current = true;
      onRemove(bar);
    } else if (event.key === '%') onBar(bar, '%');
    else if (/^[A-GN]$/iu.test(event.key)) setTyping({ bar, start: event.key.toUpperCase() });
    else return;
    event.preventDefault();
  }

  return (
    <section className="chart edit-page" aria-label="Bars" ref={page} onKeyDown={onKey}>
      <PickupCell
        pickup={pickup}
        isChosen={place.bar === PICKUP_PLACE}
        typing={typing?.bar === PICKUP_PLACE ? typing.start : null}
        onChoose={onPlace}
        onType={type}
        onTyped={typed}
      />
      {sectionsOf(withNewBars(bars, typing?.bar ?? null)).map(({ name, bars: own }) => (
        <section key={own[0]?.index} aria-label={name ?? 'bars'}>
          {name !== null && <h2>{name}</h2>}
          <div className="bars">
            {own.map((bar) => (
              <BarCell
                key={bar.index}
                bar={bar}
                chosen={place.bar === bar.index ? place.chord : null}
                typing={typing?.bar === bar.index ? typing.start : null}
                onChoose={onPlace}
                onType={type}
                onTyped={typed}
              />
            ))}
          </div>
        </section>
      ))}
    </section>
  );
}

/** Bars up to the one that is typed, where they are not read yet: its field is there for the next key, and stays. */
function withNewBars(bars: readonly PageBar[], typed: number | null): readonly PageBar[] {
  if (typed === null || typed < bars.length || bars.length === 0) return bars;
  const content = { from: 0, to: 0, text: '%', words: [], section: null };
  const added = Array.from(
    { length: typed + 1 - bars.length },
    (_, at): PageBar => ({
      ...{ index: bars.length + at, section: null, content, form: null, changed: false },
      problem: null,
    }),
  );
  return [...bars, ...added];
}

interface PageSection {
  readonly name: string | null;
  readonly bars: readonly PageBar[];
}

function sectionsOf(bars: readonly PageBar[]): readonly PageSection[] {
  const sections: { name: string | null; bars: PageBar[] }[] = [];
  for (const bar of bars) {
    const last = sections.at(-1);
    if (last === undefined || bar.section !== null) {
      sections.push({ name: bar.section, bars: [bar] });
    } else last.bars.push(bar);
  }
  return sections;
}

/** As many as are drawn side by side: fewer on a narrow page. */
function barsInRow(page: HTMLElement | null): number {
  const bars = page?.querySelector('.bars') ?? null;
  return bars === null ? 1 : getComputedStyle(bars).gridTemplateColumns.split(' ').length;
}

function chordButton(page: HTMLElement | null, place: PagePlace): HTMLElement | null {
  if (place.bar === PICKUP_PLACE) return page?.querySelector<HTMLElement>('[data-pickup]') ?? null;
  return (
    page?.querySelector<HTMLElement>(`[data-bar="${place.bar}"][data-chord="${place.chord}"]`) ??
    null
  );
}

/** Every button one can go to, the pickup first. */
const CHORDS = '[data-pickup], [data-chord]';

/** The chord before or after in the order of the page. */
function neighbour(page: HTMLElement | null, place: PagePlace, by: number): PagePlace | null {
  const buttons = [...(page?.querySelectorAll<HTMLElement>(CHORDS) ?? [])];
  const current = chordButton(page, place);
  const at = current === null ? -1 : buttons.indexOf(current);
  const { pickup, bar, chord } = buttons[at + by]?.dataset ?? {};
  if (pickup !== undefined) return { bar: PICKUP_PLACE, chord: 0 };
  return bar === undefined || chord === undefined
    ? null
    : { bar: Number(bar), chord: Number(chord) };
}
