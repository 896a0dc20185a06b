import { describe, expect, it } from 'vitest';
import { paint } from '../../src/main/cli/paint.ts';

const RED = '\u001B[31mx\u001B[39m';

describe('colour', () => {
  it.each([
    ['a terminal', { isTTY: true }, {}, RED],
    ['a terminal with an empty NO_COLOR', { isTTY: true }, { NO_COLOR: '' }, RED],
    ['a terminal with NO_COLOR', { isTTY: true }, { NO_COLOR: '1' }, 'x'],
    ['a terminal that takes none', { isTTY: true }, { TERM: 'dumb' }, 'x'],
    ['a file', { isTTY: false }, {}, 'x'],
    ['a pipe', {}, {}, 'x'],
  ])('%s', (_, stream, env, expected) => {
    expect(paint(stream, env).red('x')).toBe(expected);
  });
});
