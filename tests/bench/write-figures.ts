/** `npm run figures`: measures everything, keeps the figures, and writes the page; with a file of figures, the page alone. */

import { execFileSync } from 'node:child_process';
import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { documentSchema } from './document.ts';
import { figuresPage } from './figures-page.ts';

const root = join(import.meta.dirname, '..', '..');
const [given] = process.argv.slice(2);

function measure(): string {
  const script = join(import.meta.dirname, 'run.ts');
  const text = execFileSync(process.execPath, [script, '--json'], {
    encoding: 'utf8',
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  mkdirSync(join(root, 'out'), { recursive: true });
  writeFileSync(join(root, 'out', 'figures.json'), text);
  return text;
}

const text = given === undefined ? measure() : readFileSync(given, 'utf8');
const document = documentSchema.parse(JSON.parse(text));
writeFileSync(join(root, 'docs', 'figures.md'), figuresPage(document));
