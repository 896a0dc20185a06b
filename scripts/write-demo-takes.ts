/** Writes the demo takes and the list of what is planted in them. Invented data: the same bytes at every run. */

import { mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseArgs } from 'node:util';
import { formatMeter, parseChart, quartersPerBeat, unrollForm } from '../src/core/chart/index.ts';
import { encodeSmf, smfFromTake } from '../src/core/take/smf/index.ts';
import { keyFifths } from '../src/core/theory/index.ts';
import type { DemoTake } from './demo/faults.ts';
import { writeLine } from './demo/line.ts';
import { addApproaches } from './demo/ornament.ts';
import { perform } from './demo/perform.ts';
import { DEMO_TAKES } from './demo/takes.data.ts';

const shared = join(import.meta.dirname, '..', 'shared');

/** The MIDI file of one demo take. */
function fileOf(demo: DemoTake): Uint8Array {
  const chart = parseChart(readFileSync(join(shared, 'charts', `${demo.chart}.chart`), 'utf8'));
  if (!chart.ok) throw new Error(`${demo.chart}: ${JSON.stringify(chart.problems)}`);
  const form = unrollForm(chart.value, demo.plan);
  if (!form.ok) throw new Error(`${demo.chart} has no plan ${demo.plan}`);
  const line = addApproaches(form.value, demo, writeLine(form.value, demo));
  const { key, meter } = form.value;
  const msPerQuarter = 60_000 / demo.tempoBpm / quartersPerBeat(meter);
  const file = smfFromTake({
    take: perform(form.value, demo, line),
    tempo: [{ atMs: 0, atQuarter: 0, msPerQuarter }],
    meter,
    keyFifths: keyFifths(key),
    minor: key.mode === 'minor',
    name: `${form.value.title}, ${demo.level}, ${formatMeter(meter)}`,
    texts: [`invented data, written by scripts/write-demo-takes.ts, seed ${demo.seed}`],
  });
  return encodeSmf(file);
}

const { values } = parseArgs({ options: { to: { type: 'string' } } });
const folder = values.to ?? join(shared, 'demo-takes');
mkdirSync(folder, { recursive: true });
for (const demo of DEMO_TAKES) writeFileSync(join(folder, demo.file), fileOf(demo));
const list = { note: 'Invented data, written by scripts/write-demo-takes.ts.', takes: DEMO_TAKES };
writeFileSync(join(folder, 'takes.json'), `${JSON.stringify(list, null, 2)}\n`);
process.stdout.write(`${DEMO_TAKES.length} demo takes written.\n`);
