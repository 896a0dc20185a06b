/** The program's name and the ways to its screens. */

import type { Screen } from './screen.ts';

/** The screens one goes to from anywhere: by the head, and by the host's menu, which knows them as commands. */
export const DOORS = [
  { command: 'charts', screen: { name: 'choose' }, words: 'Charts' },
  { command: 'today', screen: { name: 'today' }, words: 'Today' },
  { command: 'progress', screen: { name: 'progress' }, words: 'Progress' },
  { command: 'journal', screen: { name: 'journal' }, words: 'Journal' },
  { command: 'settings', screen: { name: 'settings' }, words: 'Settings' },
] as const satisfies readonly {
  readonly command: string;
  readonly screen: Screen;
  readonly words: string;
}[];

interface HeadProps {
  readonly screen: Screen;
  readonly go: (screen: Screen) => void;
  readonly onHelp: () => void;
}

export function Head({ screen, go, onHelp }: HeadProps) {
  return (
    <header className="head">
      <h1>Linekeeper</h1>
      <nav aria-label="Program">
        {DOORS.map(({ screen: door, words }) => (
          <button
            key={door.name}
            type="button"
            aria-current={screen.name === door.name ? 'page' : undefined}
            onClick={() => go(door)}
          >
            {words}
          </button>
        ))}
        <button type="button" onClick={onHelp}>
          Help (F1)
        </button>
      </nav>
    </header>
  );
}
