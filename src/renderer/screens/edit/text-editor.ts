/** The text of a chart under edit, with one history for everything that changes it. */

import { defaultKeymap, history, historyKeymap, redo, undo } from '@codemirror/commands';
import { type Diagnostic, lintKeymap, setDiagnostics } from '@codemirror/lint';
import { EditorState } from '@codemirror/state';
import { drawSelection, EditorView, keymap, lineNumbers } from '@codemirror/view';
import {
  type ChartProblem,
  type ChartReading,
  describeProblem,
  offsetOfPlace,
  quickFix,
  type TextEdit,
} from '../../../core/chart/index.ts';

export interface TextEditor {
  /** What is put on the page. */
  readonly element: HTMLElement;
  text(): string;
  /** Makes edits as one step that undo takes back. */
  apply(edits: readonly TextEdit[]): void;
  /** Puts the cursor where it was last. */
  focus(): void;
  undo(): void;
  redo(): void;
  /** Underlines the problems of the text at their places, each with its quick fix. */
  show(reading: ChartReading): void;
  /** Puts the cursor at an offset, in sight. */
  goTo(offset: number): void;
}

/** The editor in the colours and type of the program. */
const LOOK = EditorView.theme({
  '&': {
    border: '1px solid var(--bar)',
    borderRadius: '0.35rem',
    background: 'var(--sheet)',
    color: 'var(--ink)',
    maxHeight: '70vh',
  },
  '&.cm-focused': { outline: '3px solid var(--focus)', outlineOffset: '2px' },
  '.cm-scroller': {
    font: '0.95rem / 1.5 ui-monospace, "DejaVu Sans Mono", monospace',
    overflow: 'auto',
  },
  '.cm-gutters': {
    background: 'var(--ground)',
    color: 'var(--ink-2)',
    borderRight: '1px solid var(--hair)',
  },
  '.cm-content': { caretColor: 'var(--ink)' },
  '.cm-cursor': { borderLeftColor: 'var(--ink)' },
  '&.cm-focused > .cm-scroller > .cm-selectionLayer .cm-selectionBackground, .cm-selectionBackground':
    { background: 'color-mix(in srgb, var(--accent) 30%, transparent)' },
  '.cm-lintRange-error': {
    backgroundImage: 'none',
    textDecoration: 'underline wavy var(--outside) 2px',
    textUnderlineOffset: '3px',
  },
  '.cm-tooltip': {
    background: 'var(--ground)',
    color: 'var(--ink)',
    border: '1px solid var(--bar)',
  },
  '.cm-diagnostic-error': { borderLeftColor: 'var(--outside)' },
  '.cm-diagnosticAction': { background: 'var(--accent)', color: 'var(--on-accent)' },
});

/** An editor not yet on the page; `onText` gets the text after each change, and whether a key was typed in it. */
export function createTextEditor(
  text: string,
  onText: (text: string, isTyped: boolean) => void,
): TextEditor {
  const element = document.createElement('div');
  // In a tree of its own the editor's styles are constructed sheets, which need no leave for inline styles.
  const root = element.attachShadow({ mode: 'open' });
  const view = new EditorView({
    root,
    parent: root,
    state: EditorState.create({
      doc: text,
      extensions: [
        history(),
        drawSelection(),
        lineNumbers(),
        EditorView.lineWrapping,
        LOOK,
        // Tab stays the way out of the field: the program is used by keyboard.
        keymap.of([...lintKeymap, ...historyKeymap, ...defaultKeymap]),
        EditorView.contentAttributes.of({ 'aria-label': 'Chart text', spellcheck: 'false' }),
        EditorView.updateListener.of((update) => {
          if (!update.docChanged) return;
          const isTyped = update.transactions.some(
            (step) => step.isUserEvent('input.type') || step.isUserEvent('delete'),
          );
          onText(update.state.doc.toString(), isTyped);
        }),
      ],
    }),
  });

  function apply(edits: readonly TextEdit[]): void {
    view.dispatch({ changes: edits.map((edit) => ({ ...edit })), userEvent: 'input.edit' });
  }

  return {
    element,
    text: () => view.state.doc.toString(),
    apply,
    focus: () => view.focus(),
    undo: () => void undo(view),
    redo: () => void redo(view),
    show({ tree, problems }) {
      const whole = view.state.doc.toString();
      const diagnostics = problems.map((problem): Diagnostic => {
        const from = Math.min(offsetOfPlace(tree, problem), whole.length);
        const to = whole.startsWith(problem.read, from) ? from + problem.read.length : from;
        return {
          from,
          to: Math.min(to, whole.length),
          severity: 'error',
          message: describeProblem(problem),
          actions: problem.fix === null ? [] : [fixAction(problem)],
        };
      });
      view.dispatch(setDiagnostics(view.state, diagnostics));
    },
    goTo(offset) {
      view.dispatch({ selection: { anchor: offset }, scrollIntoView: true });
      view.focus();
    },
  };

  function fixAction(problem: ChartProblem) {
    return {
      name: `Write ${problem.suggestion}`,
      apply() {
        const edit = quickFix(view.state.doc.toString(), problem);
        if (edit !== null) apply([edit]);
      },
    };
  }
}
