/** The options of the line command, checked one by one. */

import { type Command, InvalidArgumentError } from 'commander';
import {
  DRILL_STYLES,
  type DrillStyle,
  LINE_SHAPES,
  LINE_STYLES,
  type LineStyle,
  RIGHT_HAND_REGISTER,
  SHAPE_DENSITIES,
  USUAL_SHAPE,
} from '../../core/line/index.ts';
import { nearestWordAnyCase } from '../../core/nearest-word.ts';
import { LEVELS, type Level, PLAIN } from '../../core/words.ts';
import { choiceOption, createCommand } from './command.ts';
import { type BarRange, barRange, note, wholeBetween } from './values.ts';

export interface LineOptions {
  readonly plan: string;
  readonly key?: string;
  readonly level?: Level;
  readonly style?: LineStyle;
  /** The place on the shape dial. */
  readonly shape?: number;
  readonly drill?: DrillStyle;
  readonly bars?: BarRange;
  readonly choruses: number;
  readonly low: number;
  readonly high: number;
  readonly from?: number;
  readonly seed: number;
  readonly json?: boolean;
  readonly midi?: string;
  readonly musicxml?: string;
}

const SHAPE_WORDS = new Map(LINE_SHAPES.map((shape) => [wordOf(shape), SHAPE_DENSITIES[shape]]));
const DRILL_WORDS = new Map(DRILL_STYLES.map((style) => [wordOf(style), style]));

/** The command with all its options. */
export function lineCommand(): Command {
  const { lowestMidi, highestMidi } = RIGHT_HAND_REGISTER;
  return createCommand('line', 'Writes an example line over a chart, clean by the grader.')
    .argument('<file>', 'chart text (.changes, .chart) or a score (.musicxml, .mxl)')
    .option('--plan <name>', 'the plan of the chart', PLAIN)
    .option('--key <key>', 'the key to move the chart to, such as Eb or F#m')
    .addOption(choiceOption('--level <level>', 'which intervals are open (else steps)', LEVELS))
    .addOption(
      choiceOption(
        '--style <style>',
        'for teaching, landing on thirds and sevenths, or as solos go (else teaching)',
        LINE_STYLES,
      ),
    )
    .option(
      '--shape <shape>',
      `${[...SHAPE_WORDS.keys()].join(', ')}, or a number from 0 to 1 (else ${wordOf(USUAL_SHAPE)})`,
      shape,
    )
    .option('--drill <name>', `a drill instead: ${[...DRILL_WORDS.keys()].join(', ')}`, drill)
    .option('--bars <range>', 'only these bars, such as 5-8', barRange)
    .option('--choruses <n>', 'how often through the form', wholeBetween(1, 4096), 1)
    .option('--low <note>', 'lowest key, such as C4 or 60', note, lowestMidi)
    .option('--high <note>', 'highest key', note, highestMidi)
    .option('--from <note>', 'the key to begin on', note)
    .option('--seed <n>', 'another number, another line', wholeBetween(0, 2 ** 31), 1)
    .option('--json', 'print the line as JSON (schema linekeeper.line/1)')
    .option('--midi <file>', 'write a MIDI file instead of a page')
    .option('--musicxml <file>', 'write a score as MusicXML instead of a page');
}

/** `scalesAndArpeggios` as a word to type: `scales-and-arpeggios`. */
function wordOf(name: string): string {
  return name.replace(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`);
}

function shape(text: string): number {
  const named = SHAPE_WORDS.get(text);
  const value = named ?? (text.trim() === '' ? Number.NaN : Number(text));
  if (value >= 0 && value <= 1) return value;
  throw new InvalidArgumentError(
    `Give a number from 0 to 1, or ${oneOf(text, [...SHAPE_WORDS.keys()])}`,
  );
}

function drill(text: string): DrillStyle {
  const style = DRILL_WORDS.get(text);
  if (style !== undefined) return style;
  throw new InvalidArgumentError(`Give ${oneOf(text, [...DRILL_WORDS.keys()])}`);
}

function oneOf(read: string, words: readonly string[]): string {
  const nearest = nearestWordAnyCase(read, words);
  const hint = nearest === null ? '' : ` Nearest: ${nearest}.`;
  return `one of ${words.join(', ')}.${hint}`;
}
