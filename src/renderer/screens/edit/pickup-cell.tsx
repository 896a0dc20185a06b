/** The pickup on the edited page: a short bar before bar 1, or the place to write one. */

import '../../chart-page/pickup.css';
import { describePickup, describeProblem } from '../../../core/chart/index.ts';
import { ChordName } from '../../chart-page/chord-name.tsx';
import { withSigns } from '../../look/signs.ts';
import { BarField, type Typed } from './bar-field.tsx';
import { type PagePickup, type PagePlace, PICKUP_PLACE } from './page-model.ts';

interface PickupCellProps {
  readonly pickup: PagePickup;
  readonly isChosen: boolean;
  /** What a field opens with, or null when the pickup is not being typed. */
  readonly typing: string | null;
  readonly onChoose: (place: PagePlace) => void;
  readonly onType: (bar: number) => void;
  readonly onTyped: Typed;
}

export function PickupCell(props: PickupCellProps) {
  const { pickup, isChosen, typing, onChoose, onType, onTyped } = props;
  const { read, text, problem } = pickup;
  const chords = read?.chords ?? [];
  const words = read === null ? text : describePickup(read);
  const name = words === '' ? 'no pickup' : `pickup, ${words}`;
  return (
    <section className="pickup-row" aria-label="pickup">
      {typing === null ? (
        <button
          type="button"
          className={problem === null ? 'pickup-chord' : 'pickup-chord wrong'}
          data-pickup
          data-focus-home={isChosen ? '' : undefined}
          tabIndex={isChosen ? 0 : -1}
          aria-pressed={isChosen}
          aria-label={`Before bar 1: ${[name, ...chords.map((one) => one.symbol?.text ?? 'N.C.')].join(', ')}`}
          onClick={() => onChoose({ bar: PICKUP_PLACE, chord: 0 })}
          onDoubleClick={() => onType(PICKUP_PLACE)}
        >
          {chords.map(({ beat, symbol }) => (
            <ChordName key={beat} text={symbol?.text ?? 'N.C.'} />
          ))}
          <span className="pickup-words">{withSigns(name)}</span>
        </button>
      ) : (
        <BarField
          bar={PICKUP_PLACE}
          label="Length and chords of the pickup"
          start={typing}
          isWrong={problem !== null}
          onTyped={onTyped}
        />
      )}
      {problem !== null && <span className="bar-problem">{describeProblem(problem)}</span>}
    </section>
  );
}
