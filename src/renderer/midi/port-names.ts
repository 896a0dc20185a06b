/** Names of keyboards by which each is told from every other. Pure. */

import { COMPUTER_KEYS } from '../settings/devices.ts';

export interface NamedPort {
  /** The browser's own mark of a port: the same whenever this port is there. */
  readonly id: string;
  /** Not its alone: two of one make have the same. */
  readonly name: string | null;
}

const UNNAMED = 'Keyboard without a name';
/** What is remembered of a device holds a name of 200 letters; a number comes after it. */
const LONGEST_NAME = 190;

/**
 * Names the ports that are there, by id: as they call themselves, and `Name (2)`, `Name (3)` where a name is taken. A port
 * keeps its name while it is plugged in, and has it back where it is still free. Of ports that come at once the order is
 * that of their ids, so that the same two have the same names each time the program is started.
 */
export function createPortNames(): (ports: readonly NamedPort[]) => ReadonlyMap<string, string> {
  const known = new Map<string, string>();
  let present: ReadonlyMap<string, string> = new Map();

  return (ports) => {
    const taken = new Set([COMPUTER_KEYS]);
    const names = new Map<string, string>();
    const give = (id: string, name: string): void => {
      taken.add(name);
      names.set(id, name);
      known.set(id, name);
    };
    const coming: NamedPort[] = [];
    for (const port of ports) {
      const name = present.get(port.id);
      if (name === undefined) coming.push(port);
      else give(port.id, name);
    }
    for (const { id, name } of coming.sort((one, other) => (one.id < other.id ? -1 : 1))) {
      const before = known.get(id);
      if (before !== undefined && !taken.has(before)) give(id, before);
      else if (!names.has(id)) give(id, firstFree((name ?? '').slice(0, LONGEST_NAME), taken));
    }
    present = names;
    return names;
  };
}

function firstFree(name: string, taken: ReadonlySet<string>): string {
  const stem = name.trim() === '' ? UNNAMED : name;
  let free = stem;
  for (let number = 2; taken.has(free); number++) free = `${stem} (${number})`;
  return free;
}
