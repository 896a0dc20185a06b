/** Names by which keyboards are told apart. Own rules. */

import { describe, expect, test } from 'vitest';
import { createPortNames, type NamedPort } from '../../../src/renderer/midi/port-names.ts';

const port = (id: string, name: string | null): NamedPort => ({ id, name });
const [A, B, C] = [port('a', 'Piano'), port('b', 'Piano'), port('c', 'Piano')];

function namesOf(nameOf: ReturnType<typeof createPortNames>, ...ports: readonly NamedPort[]) {
  return Object.fromEntries(nameOf(ports));
}

describe('names of ports', () => {
  test('are their own, numbered from the second of a name on, whatever their order', () => {
    expect(namesOf(createPortNames(), C, A, B, port('d', 'Organ'))).toEqual({
      a: 'Piano',
      b: 'Piano (2)',
      c: 'Piano (3)',
      d: 'Organ',
    });
  });

  test('stay while they are plugged in, and come back with the port', () => {
    const nameOf = createPortNames();
    namesOf(nameOf, A, B);
    expect(namesOf(nameOf, B)).toEqual({ b: 'Piano (2)' });
    expect(namesOf(nameOf, B, A)).toEqual({ b: 'Piano (2)', a: 'Piano' });
    namesOf(nameOf, A);
    expect(namesOf(nameOf, A, B)).toEqual({ a: 'Piano', b: 'Piano (2)' });
  });

  test('of one that comes back under another mark are the first that is free', () => {
    const nameOf = createPortNames();
    namesOf(nameOf, A);
    namesOf(nameOf);
    expect(namesOf(nameOf, B)).toEqual({ b: 'Piano' });
    // Its name is taken by now.
    expect(namesOf(nameOf, B, A)).toEqual({ b: 'Piano', a: 'Piano (2)' });
  });

  test('are never those of another, however it calls itself', () => {
    expect(namesOf(createPortNames(), A, port('0', 'Piano (2)'), B)).toEqual({
      0: 'Piano (2)',
      a: 'Piano',
      b: 'Piano (3)',
    });
    expect(namesOf(createPortNames(), port('a', 'Computer keys'))).toEqual({
      a: 'Computer keys (2)',
    });
  });

  test('are there where a port has none, and short enough to be remembered', () => {
    const names = createPortNames()([
      port('a', null),
      port('b', ' '),
      port('c', 'x'.repeat(500)),
      port('d', 'x'.repeat(501)),
    ]);
    expect(names.get('a')).toBe('Keyboard without a name');
    expect(names.get('b')).toBe('Keyboard without a name (2)');
    // Source: `deviceSchema`.
    for (const name of names.values()) expect(name.length).toBeLessThanOrEqual(200);
    expect(new Set(names.values()).size).toBe(4);
  });

  test('are one name where a port is there twice', () => {
    expect([...createPortNames()([A, A]).values()]).toEqual(['Piano']);
  });
});
