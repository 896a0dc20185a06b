/** Plans made by worked rules: what a rule does, which bars it would change, and the change itself. */

import { useId, useState } from 'react';
import { type Chart, describeProblem } from '../../../core/chart/index.ts';
import {
  describeLeft,
  type LeftPlace,
  PLAN_RULES,
  planByRule,
  planNameProblem,
  surveyRule,
} from '../../../core/plan/index.ts';
import { PLAIN } from '../../../core/words.ts';
import { SelectField } from '../../look/fields.tsx';
import { withSigns } from '../../look/signs.ts';

interface PlanPanelProps {
  readonly chart: Chart;
  /** The plan on the page. */
  readonly plan: string;
  readonly onChart: (chart: Chart, plan: string) => void;
}

/** Folded away until it is asked for: looking through all bars at every keystroke would be felt. */
export function PlanPanel(props: PlanPanelProps) {
  const [isOpen, setOpen] = useState(false);
  return (
    <section aria-label="Plans" className="plan-panel">
      <details onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary data-focus-home>Make a plan by a rule</summary>
        {isOpen && <RuleForm {...props} />}
      </details>
    </section>
  );
}

function RuleForm({ chart, plan, onChart }: PlanPanelProps) {
  const [rule, setRule] = useState(PLAN_RULES[0]);
  const [typed, setTyped] = useState('');
  const nameId = useId();
  if (rule === undefined) return null;
  const isNew = plan === PLAIN;
  const name = isNew ? typed.trim() || rule.name.toLowerCase() : plan;
  const wrongName = isNew ? newNameProblem(chart, name) : null;
  const { places, left } = surveyRule(chart, plan, rule);

  function write(which: typeof places | null): void {
    const made = rule === undefined ? null : planByRule(chart, name, rule.id, which);
    if (made?.ok === true) onChart(made.value, name);
  }

  return (
    <>
      <div className="row">
        <SelectField
          label="Rule"
          value={rule}
          options={PLAN_RULES.map((value) => ({ value, words: value.name }))}
          onChange={setRule}
        />
        {isNew ? (
          <label className="field" htmlFor={nameId}>
            Name of the new plan
            <input
              id={nameId}
              type="text"
              maxLength={60}
              placeholder={rule.name.toLowerCase()}
              value={typed}
              aria-invalid={wrongName !== null}
              onChange={(event) => setTyped(event.target.value)}
            />
            {wrongName !== null && <span className="field-problem">{wrongName}</span>}
          </label>
        ) : (
          <p className="soft">goes into the plan “{plan}”</p>
        )}
      </div>
      <p>{rule.says}</p>
      {places.length === 0 ? (
        <p className="soft">It has no place in {isNew ? 'this chart' : 'this plan'}.</p>
      ) : (
        <>
          <button
            type="button"
            className="main"
            disabled={wrongName !== null}
            onClick={() => write(null)}
          >
            Write it in {places.length === 1 ? 'its one place' : `all ${places.length} places`}
          </button>
          <ul className="plain-list rule-places">
            {places.map((place) => (
              <li key={`${place.bar} ${place.chord}`}>
                Bar {place.bar + 1}: {withSigns(place.before)} → {withSigns(place.after)}{' '}
                <button type="button" disabled={wrongName !== null} onClick={() => write([place])}>
                  Only here
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
      {left.length > 0 && <LeftAlone left={left} />}
    </>
  );
}

/** What the rule leaves alone, folded away: a player asks for it where a place is missed. */
function LeftAlone({ left }: { readonly left: readonly LeftPlace[] }) {
  return (
    <details>
      <summary>
        Leaves {left.length} {left.length === 1 ? 'other' : 'others'} alone
      </summary>
      <ul className="plain-list rule-places">
        {left.map(({ bar, chord, symbol, why }) => (
          <li key={`${bar} ${chord}`}>
            Bar {bar + 1}, {withSigns(symbol)}: {withSigns(describeLeft(why))}.
          </li>
        ))}
      </ul>
    </details>
  );
}

/** What is wrong with the name of a plan that is to be new, in words, or null. */
function newNameProblem(chart: Chart, name: string): string | null {
  if (chart.plans.some((plan) => plan.name === name)) {
    return 'There is a plan of this name. Choose another, or show that plan on the page.';
  }
  const problem = planNameProblem(chart, name);
  return problem === null ? null : describeProblem(problem);
}
