/** The program's name, and its commands as buttons. */

import { COMMANDS, type CommandName } from '../../../shared/commands.ts';
import type { Screen } from './screen.ts';

/** Where commands lead that open a screen. */
export const DOORS: Readonly<Partial<Record<CommandName, Screen>>> = {
  charts: { name: 'choose' },
  today: { name: 'today' },
  progress: { name: 'progress' },
  journal: { name: 'journal' },
  settings: { name: 'settings' },
};

interface HeadProps {
  readonly screen: Screen;
  readonly onCommand: (name: CommandName) => void;
}

export function Head({ screen, onCommand }: HeadProps) {
  return (
    <header className="head">
      <h1>Linekeeper</h1>
      <nav aria-label="Program">
        {COMMANDS.map(({ name, words, key }) => (
          <button
            key={name}
            type="button"
            aria-current={screen.name === DOORS[name]?.name ? 'page' : undefined}
            onClick={() => onCommand(name)}
          >
            {key === null ? words : `${words} (${key})`}
          </button>
        ))}
      </nav>
    </header>
  );
}
