/** Rows and columns of the pictures over takes, in words. */

import type { HeatReply } from '../../../../shared/bridge/index.ts';
import { formatDay } from '../../../core/journal/index.ts';
import { describeChange } from '../../../core/progress/index.ts';
import type { ChordFamily } from '../../../core/theory/index.ts';
import type { HeatRule, Lateness } from '../../../core/words.ts';
import { withSigns } from '../../look/signs.ts';

interface AxisWords {
  readonly rows: readonly string[];
  readonly columns: readonly string[];
}

export function axisWords({ axes }: Pick<HeatReply, 'axes'>): AxisWords {
  switch (axes.picture) {
    case 'rulesByBars':
      return { rows: axes.rows.map(ruleWords), columns: axes.columns.map(String) };
    case 'weeksByBars':
      return { rows: axes.rows.map(formatDay), columns: axes.columns.map(String) };
    case 'chordsByRoots':
      return {
        rows: axes.rows.map((family) => FAMILY_WORDS[family]),
        columns: axes.columns.map((pc) => ROOTS[pc] ?? ''),
      };
    case 'changesByLateness':
      return {
        rows: axes.rows.map((change) => withSigns(describeChange(change))),
        columns: axes.columns.map((lateness) => LATENESS_WORDS[lateness]),
      };
  }
}

function ruleWords(rule: HeatRule): string {
  return rule === 'change' ? 'late change' : rule;
}

/** One name for each pitch class: charts name their roots themselves. */
const ROOTS = ['C', 'D♭', 'D', 'E♭', 'E', 'F', 'G♭', 'G', 'A♭', 'A', 'B♭', 'B'];

const LATENESS_WORDS: Readonly<Record<Lateness, string>> = {
  onTime: 'on time',
  by1: '1 slot late',
  by2: '2 late',
  by3: '3 late',
  byMore: 'more',
  unproven: 'unproven',
};

const FAMILY_WORDS: Readonly<Record<ChordFamily, string>> = {
  major: 'major',
  minor: 'minor',
  dominant: 'dominant',
  halfDiminished: 'half-diminished',
  diminished: 'diminished',
  augmented: 'augmented',
  suspended: 'suspended',
  power: 'power',
};
