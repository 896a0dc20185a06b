/** The chart's text, and everything that is wrong with it. */

import { useLayoutEffect, useRef } from 'react';
import { describeProblem, offsetOfPlace, quickFix } from '../../../core/chart/index.ts';
import type { Draft } from './use-draft.ts';

/** Problems listed below the text; mending these brings up the next. */
const LISTED = 12;

export function TextPane({ draft }: { readonly draft: Draft }) {
  const { editor, reading } = draft;
  const { problems } = reading;
  const pane = useRef<HTMLDivElement>(null);
  // On the page before a key can ask for it.
  useLayoutEffect(() => {
    pane.current?.append(editor.element);
    return () => editor.element.remove();
  }, [editor]);
  return (
    <div className="text-pane">
      <div className="text-editor" ref={pane} />
      {problems.length > 0 && (
        <ul className="plain-list problems" aria-label="Problems">
          {problems.slice(0, LISTED).map((problem) => (
            <li key={`${problem.line} ${problem.column} ${problem.code}`}>
              <button
                type="button"
                className="inline"
                onClick={() => editor.goTo(offsetOfPlace(reading.tree, problem))}
              >
                Line {problem.line}, column {problem.column}
              </button>{' '}
              {describeProblem(problem)}{' '}
              {problem.fix !== null && (
                <button
                  type="button"
                  onClick={() => {
                    const edit = quickFix(editor.text(), problem);
                    if (edit !== null) editor.apply([edit]);
                  }}
                >
                  Write {problem.suggestion}
                </button>
              )}
            </li>
          ))}
          {problems.length > LISTED && <li>and {problems.length - LISTED} more.</li>}
        </ul>
      )}
    </div>
  );
}
