/** One bar of the edited page: its chords as buttons, or, while it is typed, a field. */

import { memo } from 'react';
import { describeProblem } from '../../../core/chart/index.ts';
import { ChordName } from '../../chart-page/chord-name.tsx';
import { withSigns } from '../../look/signs.ts';
import { BarField, type Typed } from './bar-field.tsx';
import { chordNames, type PageBar, type PagePlace } from './page-model.ts';

interface BarCellProps {
  readonly bar: PageBar;
  /** The chord chosen in this bar, or null. */
  readonly chosen: number | null;
  /** What a field opens with, or null when the bar is not being typed. */
  readonly typing: string | null;
  readonly onChoose: (place: PagePlace) => void;
  readonly onType: (bar: number) => void;
  readonly onTyped: Typed;
}

export const BarCell = memo((props: BarCellProps) => {
  const { bar, chosen, typing, onChoose, onType, onTyped } = props;
  const { index, content, problem, changed } = bar;
  const isRepeat = content.text === '%' && !changed;
  const state = [
    'bar',
    ...(chosen === null ? [] : ['current']),
    ...(changed ? ['changed'] : []),
    ...(problem === null ? [] : ['wrong']),
  ].join(' ');
  return (
    <div className={state}>
      <span className="bar-number">
        {changed && 'changed '}
        {index + 1}
      </span>
      {typing === null ? (
        <div className="bar-chords">
          {chordNames(bar).map(({ text, palette, chord }) => (
            <button
              key={chord}
              type="button"
              className={isRepeat ? 'chord resting' : 'chord'}
              data-bar={index}
              data-chord={chord}
              data-focus-home={chosen === chord ? '' : undefined}
              tabIndex={chosen === chord ? 0 : -1}
              aria-pressed={chosen === chord}
              aria-label={`Bar ${index + 1}: ${text}${palette === '' ? '' : `, ${palette}`}`}
              onClick={() => onChoose({ bar: index, chord })}
              onDoubleClick={() => onType(index)}
            >
              <ChordName text={text} />
              {palette !== '' && <span className="bar-palette">{withSigns(palette)}</span>}
            </button>
          ))}
        </div>
      ) : (
        <BarField
          bar={index}
          label={`Chords of bar ${index + 1}`}
          start={typing}
          isWrong={problem !== null}
          onTyped={onTyped}
        />
      )}
      {problem !== null && <span className="bar-problem">{describeProblem(problem)}</span>}
    </div>
  );
}, isDrawnAlike);

/** Every reading of the text makes all bars anew; most are drawn as before. */
function isDrawnAlike(one: BarCellProps, other: BarCellProps): boolean {
  return (
    one.chosen === other.chosen &&
    one.typing === other.typing &&
    (one.bar === other.bar || isSameDrawing(one.bar, other.bar))
  );
}

function isSameDrawing(one: PageBar, other: PageBar): boolean {
  return (
    one.changed === other.changed &&
    one.content.text === other.content.text &&
    problemWords(one) === problemWords(other) &&
    chordNames(one).map(wordsOf).join() === chordNames(other).map(wordsOf).join()
  );
}

function problemWords({ problem }: PageBar): string {
  return problem === null ? '' : describeProblem(problem);
}

function wordsOf({ text, palette }: { readonly text: string; readonly palette: string }): string {
  return `${text} ${palette}`;
}
