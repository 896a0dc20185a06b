/** Grading takes on the command line: options and formats stand in `grading.md`. */

import type { Command } from 'commander';
import { type Form, formatMeter } from '../core/chart/index.ts';
import { readingRemedy } from '../core/findings/index.ts';
import {
  CSV_HEADER,
  type GradeSettings,
  isGradable,
  NOT_GRADABLE,
  readTake,
  reportCsv,
  slotAxis,
} from '../core/grading/index.ts';
import { mapJson, mapTakes } from '../core/map/index.ts';
import { failure, type Outcome, success } from '../core/problem.ts';
import { inPlan } from './cli/chosen-form.ts';
import { runCommand, UsageError } from './cli/command.ts';
import { EXIT, type ExitCode } from './cli/exit.ts';
import { type GradeOptions, gradeCommand } from './cli/grade-options.ts';
import { paint } from './cli/paint.ts';
import { createProgress } from './cli/progress.ts';
import { readChartFile } from './cli/read-chart-file.ts';
import { tellNotices, tellProblems } from './cli/show-problem.ts';
import {
  listTakeFiles,
  readTakeFile,
  type TakeFile,
  type TakeFileProblem,
} from './cli/take-files.ts';
import { type GradedTake, manyPage, worstBars } from './report-page/many-page.ts';
import { mapPage } from './report-page/map-page.ts';
import { reportPage } from './report-page/page.ts';

/** Grades what the arguments after the script's name say, prints it, and sets the exit code of the process. */
export function gradeTakes(args: readonly string[]): void {
  runCommand(gradeCommand(), args, gradeAll);
}

function gradeAll(parsed: Command): ExitCode {
  const options = parsed.opts<GradeOptions>();
  for (const other of ['json', 'map'] as const) {
    if (options[other] && options.csv) {
      throw new UsageError(`option '--${other}' cannot be used with option '--csv'`);
    }
  }
  const form = readForm(options);
  if (form === null) return EXIT.unreadable;
  const listed = listTakeFiles(parsed.args);
  const isMany = listed.files.length + listed.problems.length > 1;
  const progress = createProgress(process.stderr, isMany ? listed.files.length : 0);
  const graded: GradedTake[] = [];
  const problems: TakeFileProblem[] = [...listed.problems];
  for (const file of listed.files) {
    progress.next(file);
    const take = readTakeFile(file, options.start ?? null);
    const one = take.ok ? gradeOne(take.value, form, options) : take;
    if (one.ok) graded.push(one.value);
    else problems.push(...one.problems);
  }
  progress.end();
  for (const problem of problems) tell(problem.file, problem.sentence);
  print(graded, problems, form, options, isMany);
  return problems.length === 0 ? EXIT.ok : EXIT.unreadable;
}

/** The form to grade against; null after the chart's problems have been told. */
function readForm(options: GradeOptions): Form | null {
  const file = readChartFile(options.chart);
  if (!file.ok) {
    tellProblems(file.problems);
    if (options.json) {
      const { chart } = options;
      printJson(
        manyJson(
          [],
          file.problems.map(({ sentence }) => ({ file: chart, sentence })),
        ),
      );
    }
    return null;
  }
  tellNotices(options.chart, file.value.notices);
  return inPlan(file.value.chart, options.plan);
}

function gradeOne(
  take: TakeFile,
  form: Form,
  options: GradeOptions,
): Outcome<GradedTake, TakeFileProblem> {
  tellTakeNotices(take, form, options);
  const { file, modifiedAtMs } = take;
  const settings = settingsOf(take, options);
  if (!isGradable(form, take.take, settings)) {
    return failure({ file, sentence: `${NOT_GRADABLE.message} ${NOT_GRADABLE.remedy}` });
  }
  const read = readTake({ form, take: take.take, settings }, take.decision);
  const { report, isUndecided } = read;
  const [first] = report.readings;
  const start = { startMs: take.startMs, slotMs: slotAxis(form, settings).timeMs };
  const remedy = first === undefined ? null : readingRemedy(first, report, form, start);
  const isMoved = read.form !== form;
  return success({ file, report, isUndecided, isMoved, remedy, modifiedAtMs });
}

/** What no option says the file may. Giving a split is asking for the left hand too: the command has no other word for it. */
function settingsOf(take: TakeFile, options: GradeOptions): GradeSettings {
  const { tempo, latency, split, level, slots, swing, tolerance } = options;
  const { approach, repeats, lineUp, anticipation } = options;
  return {
    level: 'steps',
    ...take.settings,
    tempo: tempo === undefined ? take.tempo : { kind: 'steady', tempoBpm: tempo },
    ...(level && { level }),
    ...(slots && { slotsPerBeat: slots }),
    ...(swing && { swing }),
    ...(latency !== undefined && { latencyMs: latency }),
    ...(split !== undefined && { splitMidi: split, leftHand: true }),
    ...(tolerance !== undefined && { toleranceMs: tolerance }),
    ...(approach && { approach }),
    ...(repeats && { repeats }),
    ...(lineUp && { lineUp }),
    ...(anticipation && { anticipation }),
  };
}

function tellTakeNotices(take: TakeFile, form: Form, options: GradeOptions): void {
  const [meter] = take.meters;
  const written = meter === undefined ? null : `${meter.count}/${meter.denominator}`;
  if (written !== null && written !== formatMeter(form.meter)) {
    tell(
      take.file,
      `The file says ${written}, the chart ${formatMeter(form.meter)}; graded in the chart’s meter.`,
    );
  }
  for (const notice of take.notices) {
    if (notice.code === 'percussionLeftOut') {
      tell(take.file, `${notice.notes} notes on the percussion channel (10) were left out.`);
    } else if (notice.code === 'remarksUnread') {
      tell(
        take.file,
        `${notice.texts} texts of this program in it could not be read and were passed over.`,
      );
    } else if (notice.code === 'valuesClamped') {
      tell(take.file, `${notice.values} values above 127, the largest of MIDI, were read as 127.`);
    } else if (options.tempo === undefined) {
      tell(take.file, 'The file counts in frames and names no tempo; 120 was taken. Give --tempo.');
    }
  }
}

function print(
  graded: readonly GradedTake[],
  problems: readonly TakeFileProblem[],
  form: Form,
  options: GradeOptions,
  isMany: boolean,
): void {
  const [only] = graded;
  if (options.map) {
    const mapped = mapTakes(
      form,
      graded.map((take) => ({ ...take, isUndecided: take.isUndecided || take.isMoved })),
    );
    if (options.json) printJson(mapJson(form, mapped));
    else process.stdout.write(mapPage(form, mapped, paint(process.stdout, process.env)));
  } else if (options.json) {
    printJson(isMany || only === undefined ? manyJson(graded, problems) : only.report);
  } else if (options.csv) {
    const rows = graded.map(({ file, report }) => reportCsv(report, file));
    process.stdout.write(CSV_HEADER + rows.join(''));
  } else if (only !== undefined) {
    const colours = paint(process.stdout, process.env);
    const width = Math.min(120, process.stdout.columns ?? 80);
    process.stdout.write(
      isMany ? manyPage(graded, form, colours) : reportPage(only, form, width, colours),
    );
  }
}

function manyJson(graded: readonly GradedTake[], problems: readonly TakeFileProblem[]) {
  const takes = [
    ...graded.map(({ file, report }) => ({ file, report })),
    ...problems.map(({ file, sentence }) => ({ file, problem: sentence })),
  ];
  return { schema: 'linekeeper.reports/1', takes, worstBars: worstBars(graded) };
}

function printJson(json: unknown): void {
  process.stdout.write(`${JSON.stringify(json, null, process.stdout.isTTY ? 2 : 0)}\n`);
}

function tell(file: string, sentence: string): void {
  tellNotices(file, [sentence]);
}
