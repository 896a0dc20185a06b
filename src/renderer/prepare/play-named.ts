/** A practice by its name alone made ready to be played: from a list, a ladder or today's session. */

import type { Bridge, PracticeName } from '../../../shared/bridge/index.ts';
import { prepareForm } from '../../core/chart/index.ts';
import { failure, type Outcome, success } from '../../core/problem.ts';
import { refusalWords } from '../app/refusal-words.ts';
import type { Again } from './play-again.ts';
import { NO_HAND, readPracticeChoice, setUpOf } from './practice-choice.ts';

export interface NamedPlay extends PracticeName {
  readonly tempoBpm: number;
  /** Null: the whole form. */
  readonly bars: { readonly from: number; readonly to: number } | null;
  /** Null: endless. */
  readonly choruses: number | null;
}

/** What is to be played, by the rules last chosen for its chart. Problems are sentences. */
export async function playNamed(bridge: Bridge, play: NamedPlay): Promise<Outcome<Again, string>> {
  const charts = await bridge.ask('charts.list', {});
  if (!charts.ok) return failure(refusalWords(charts.refusal));
  const chart = charts.value.find(({ chartId }) => chartId === play.chartId);
  if (chart === undefined) {
    return failure('Its chart is not in the library any more. Choose something else.');
  }
  const settings = await bridge.ask('settings.get', {});
  const stored = readPracticeChoice(settings.ok ? settings.value : {}, chart.chartId);
  const { plan, key, level, tempoBpm, bars, choruses } = play;
  const choice = { ...stored, plan, key, level, tempoBpm, bars, choruses };
  const prepared = prepareForm(chart.text, choice);
  if (!prepared.ok) return failure(...prepared.problems);
  return success({
    form: prepared.value.form,
    setUp: setUpOf(chart, prepared.value, choice, NO_HAND),
  });
}
