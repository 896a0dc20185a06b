/** Printing a chart on the command line, with a palette and its reason for every chord. */

import type { Command } from 'commander';
import { type ChartJson, chartErrorsJson, chartJson } from '../core/chart/index.ts';
import { PLAIN } from '../core/words.ts';
import { chartPage } from './cli/chart-page.ts';
import { inKey, inPlan } from './cli/chosen-form.ts';
import { createCommand, runCommand } from './cli/command.ts';
import { EXIT, type ExitCode } from './cli/exit.ts';
import { paint } from './cli/paint.ts';
import { type ChartFileProblem, readChartFile } from './cli/read-chart-file.ts';
import { rulesJson, rulesPage } from './cli/rules-page.ts';
import { tellNotices, tellProblems } from './cli/show-problem.ts';

interface ChartOptions {
  readonly plan: string;
  readonly key?: string;
  readonly rules?: boolean;
  readonly json?: boolean;
}

/** Prints the chart that the arguments after the script's name say, and sets the exit code of the process. */
export function printChart(args: readonly string[]): void {
  runCommand(chartCommand(), args, print);
}

function chartCommand(): Command {
  return createCommand('chart', 'Prints a chart with a palette and its reason for every chord.')
    .argument('<file>', 'chart text (.changes, .chart) or a score (.musicxml, .mxl)')
    .option('--plan <name>', 'the plan to print', PLAIN)
    .option('--key <key>', 'the key to move the chart to, such as Eb or F#m')
    .option('--rules', 'tell what each rule that makes plans finds here, and what it leaves alone')
    .option('--json', 'print one JSON object (schema linekeeper.chart/1) instead of a page');
}

function print(parsed: Command): ExitCode {
  const options = parsed.opts<ChartOptions>();
  const [path = ''] = parsed.args;
  const file = readChartFile(path);
  if (!file.ok) return printProblems(file.problems, options);
  tellNotices(path, file.value.notices);
  const chart = inKey(file.value.chart, options.key);
  const form = inPlan(chart, options.plan);
  const colours = paint(process.stdout, process.env);
  const { plan } = form;
  if (options.json) {
    const rules = options.rules ? { rules: rulesJson(chart, plan) } : {};
    printJson({ ...chartJson(chart, form), ...rules });
  } else {
    process.stdout.write(chartPage(chart, form, colours));
    if (options.rules) process.stdout.write(`\n${rulesPage(chart, plan, colours)}`);
  }
  return EXIT.ok;
}

function printProblems(problems: readonly ChartFileProblem[], options: ChartOptions): ExitCode {
  if (options.json) printJson(chartErrorsJson(problems));
  else tellProblems(problems);
  return EXIT.unreadable;
}

function printJson(json: ChartJson): void {
  process.stdout.write(`${JSON.stringify(json, null, 2)}\n`);
}
