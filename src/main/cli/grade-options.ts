/** The options of the grade command, checked one by one. */

import type { Command } from 'commander';
import {
  ALLOWANCES,
  type Allowance,
  LEVELS,
  type Level,
  PLAIN,
  type SlotsPerBeat,
} from '../../core/words.ts';
import { choiceOption, createCommand } from './command.ts';
import { between, note, slots } from './values.ts';

export interface GradeOptions {
  readonly chart: string;
  readonly plan: string;
  readonly level?: Level;
  readonly tempo?: number;
  readonly slots?: SlotsPerBeat;
  readonly swing?: number;
  readonly split?: number;
  readonly latency?: number;
  readonly tolerance?: number;
  readonly start?: number;
  readonly approach?: Allowance;
  readonly repeats?: Allowance;
  readonly lineUp?: Allowance;
  readonly anticipation?: Allowance;
  readonly json?: boolean;
  readonly csv?: boolean;
  readonly map?: boolean;
}

/** The command with all its options; the README lists the useful ones. */
export function gradeCommand(): Command {
  const allowances = (flags: string, what: string) => choiceOption(flags, what, ALLOWANCES);
  return createCommand('grade', 'Grades recorded takes of a line against a chart.')
    .argument('<take...>', 'MIDI files (.mid), or folders of them')
    .requiredOption('--chart <file>', 'the chart the takes were played on')
    .option('--plan <name>', 'the plan of the chart', PLAIN)
    .addOption(
      choiceOption('--level <level>', 'which intervals are open (else as the file says)', LEVELS),
    )
    .option('--tempo <bpm>', 'beats per minute (else the file’s tempo map)', between(20, 400))
    .option('--slots <n>', 'slots per beat: 1, 2, 3 or 4 (else eighth notes)', slots)
    .option('--swing <ratio>', 'long : short, 1 is straight', between(1, 4))
    .option('--split <note>', 'lowest key of the line, such as C4 or 60', note)
    .option('--latency <ms>', 'taken off every onset', between(-500, 1000))
    .option('--tolerance <ms>', 'how far off an onset may be', between(0, 500))
    .option('--start <ms>', 'time of the first downbeat in the file', between(0, 36_000_000))
    .addOption(allowances('--approach <allow|flag>', 'chromatic approaches'))
    .addOption(allowances('--repeats <allow|flag>', 'repeated pitches'))
    .addOption(allowances('--line-up <allow|flag>', 'one third or semitone at each change'))
    .addOption(
      allowances('--anticipation <allow|flag>', 'a note of the next palette in the last slot'),
    )
    .option('--json', 'print the report as JSON (schema linekeeper.report/1)')
    .option('--csv', 'print one row for each slot as CSV')
    .option('--map', 'print what was played over each chord, and what never was');
}
