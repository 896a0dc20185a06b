/** An example line over a chart, or a drill, written on the command line: printed, or saved as a file. */

import { writeFileSync } from 'node:fs';
import type { Command } from 'commander';
import { chartErrorsJson, type Form } from '../core/chart/index.ts';
import {
  describeDrillProblem,
  describeLineProblem,
  drillOf,
  LINE_SCHEMA,
  type LineWish,
  lineJson,
  lineMidi,
  SHAPE_DENSITIES,
  USUAL_SHAPE,
  type WrittenLine,
  writeDrill,
  writeLine,
} from '../core/line/index.ts';
import { failure, type Outcome } from '../core/problem.ts';
import { lineMeasures, writeScoreMusicXml } from '../core/score/index.ts';
import { inBars, inKey, inPlan } from './cli/chosen-form.ts';
import { runCommand, UsageError } from './cli/command.ts';
import { EXIT, type ExitCode } from './cli/exit.ts';
import { type LineOptions, lineCommand } from './cli/line-options.ts';
import { linePage } from './cli/line-page.ts';
import { paint } from './cli/paint.ts';
import { type ChartFileProblem, readChartFile } from './cli/read-chart-file.ts';
import { printable, tellNotices, tellProblems } from './cli/show-problem.ts';

/** Writes the line that the arguments after the script's name ask for, and sets the exit code of the process. */
export function printLine(args: readonly string[]): void {
  runCommand(lineCommand(), args, print);
}

/** The tempo of a file where the chart names none. Common practice, no source. */
const USUAL_TEMPO_BPM = 60;

function print(parsed: Command): ExitCode {
  const options = parsed.opts<LineOptions>();
  checkTogether(options);
  const [path = ''] = parsed.args;
  const file = readChartFile(path);
  if (!file.ok) return noChart(file.problems, options);
  tellNotices(path, file.value.notices);
  const form = inBars(inPlan(inKey(file.value.chart, options.key), options.plan), options.bars);
  const wish = wishOf(options);
  const line = written(form, wish, options);
  if (!line.ok) return noLine(line.problems, options);
  return put(form, line.value, wish, options);
}

/** Options that contradict each other. */
function checkTogether({
  json,
  midi,
  musicxml,
  drill,
  level,
  style,
  shape,
  low,
  high,
}: LineOptions): void {
  const outputs = [json && '--json', midi && '--midi', musicxml && '--musicxml'].filter(Boolean);
  if (outputs.length > 1) refuse(String(outputs[0]), String(outputs[1]));
  if (drill !== undefined && level !== undefined) refuse('--level', '--drill');
  if (drill !== undefined && style !== undefined) refuse('--style', '--drill');
  if (drill !== undefined && shape !== undefined) refuse('--shape', '--drill');
  if (low > high) {
    throw new UsageError(
      `option '--low': the lowest key lies above the highest; read ${low} and ${high}. Give a lower one, or a higher --high.`,
    );
  }
}

function refuse(one: string, other: string): never {
  throw new UsageError(`option '${one}' cannot be used with option '${other}'`);
}

function wishOf({ level, style, shape, choruses, low, high, from, seed }: LineOptions): LineWish {
  return {
    level: level ?? 'steps',
    style: style ?? 'teaching',
    ...{ choruses, seed, slotsPerBeat: null, swing: 1 },
    density: shape ?? SHAPE_DENSITIES[USUAL_SHAPE],
    direction: 0,
    register: { lowestMidi: low, highestMidi: high },
    startMidi: from ?? null,
  };
}

function written(form: Form, wish: LineWish, { drill }: LineOptions): Outcome<WrittenLine, string> {
  if (drill === undefined) {
    const line = writeLine(form, wish);
    return line.ok ? line : failure(...line.problems.map(describeLineProblem));
  }
  const line = writeDrill(form, drill, wish);
  return line.ok ? line : failure(...line.problems.map(describeDrillProblem));
}

function noChart(problems: readonly ChartFileProblem[], { json }: LineOptions): ExitCode {
  if (json) {
    const { errors } = chartErrorsJson(problems);
    printJson({ schema: LINE_SCHEMA, slots: [], noLine: null, errors });
  } else tellProblems(problems);
  return EXIT.unreadable;
}

function noLine(sentences: readonly string[], { json }: LineOptions): ExitCode {
  if (json) printJson({ schema: LINE_SCHEMA, slots: [], noLine: sentences.join(' '), errors: [] });
  else process.stderr.write(`${printable(sentences.join('\n'))}\n`);
  return EXIT.unreadable;
}

/** How a page and a file name the styles. */
const STYLE_WORDS = { teaching: 'for teaching', solo: 'as solos go' } as const;

function put(form: Form, line: WrittenLine, wish: LineWish, options: LineOptions): ExitCode {
  const { json, midi, musicxml, drill, seed } = options;
  const what =
    drill === undefined
      ? `line at ${line.level}, ${STYLE_WORDS[wish.style]}`
      : drillOf(drill).name.toLowerCase();
  const tempoBpm = form.tempoBpm ?? USUAL_TEMPO_BPM;
  const title = `${form.title}, ${what}, seed ${seed}`;
  if (midi !== undefined) return save('--midi', midi, lineMidi(form, line, tempoBpm, title));
  if (musicxml !== undefined) {
    const score = writeScoreMusicXml(form, lineMeasures(form, line), title, tempoBpm);
    return save('--musicxml', musicxml, score);
  }
  if (json) printJson({ ...lineJson(form, line, wish, drill ?? null), noLine: null, errors: [] });
  else {
    const width = Math.min(120, process.stdout.columns ?? 80);
    const colours = paint(process.stdout, process.env);
    process.stdout.write(linePage(form, line, { what, seed }, width, colours));
  }
  return EXIT.ok;
}

/** Writes a new file; one that is there is not written over, it may be a take. */
function save(option: string, path: string, content: Uint8Array | string): ExitCode {
  try {
    writeFileSync(path, content, { flag: 'wx' });
    return EXIT.ok;
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown error';
    const why =
      code === 'EEXIST'
        ? 'there is a file of that name. Give another name, or remove it first.'
        : `the system refused to write it (${code}). Give a place you may write to.`;
    throw new UsageError(`option '${option}': ${printable(path)}: ${why}`);
  }
}

function printJson(json: unknown): void {
  process.stdout.write(`${JSON.stringify(json, null, process.stdout.isTTY ? 2 : 0)}\n`);
}
