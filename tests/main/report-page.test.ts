/** Pages for the terminal: what a file is named cannot steer it. */

import { expect, test } from 'vitest';
import { gradeTake } from '../../src/core/grading/index.ts';
import { paint } from '../../src/main/cli/paint.ts';
import { manyPage } from '../../src/main/report-page/many-page.ts';
import { reportPage } from '../../src/main/report-page/page.ts';
import { formFromText } from '../helpers/form-from-text.ts';

test('control characters in the name of a file do not reach the terminal', () => {
  const form = formFromText('| Cmaj7 |');
  const take = {
    events: [{ kind: 'noteOn' as const, atMs: 0, midi: 60, velocity: 80 }],
    endMs: 1000,
    sources: [],
    breaks: [],
  };
  const tempo = { kind: 'steady' as const, tempoBpm: 60 };
  const report = gradeTake(form, take, { level: 'steps', tempo });
  const file = 'a\u001b]0;title\u0007\u009b31m\r\u0008.mid';
  const plain = paint({ isTTY: false }, {});
  const graded = {
    file,
    report,
    isUndecided: false,
    isMoved: false,
    remedy: null,
    modifiedAtMs: 0,
  };
  const pages = [reportPage(graded, form, 80, plain), manyPage([graded, graded], form, plain)];
  for (const page of pages) {
    expect(page).toContain('title');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what must not be there
    expect(page).not.toMatch(/[\u0000-\u0008\u000b-\u001f\u007f-\u009f]/u);
  }
});
