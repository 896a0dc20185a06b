/** The lines to choose from: all clean lines that show the changes as early as any clean line can. */

import { bestPart, outlookOf } from './best-changes.ts';
import type { LineEntry } from './entries.ts';
import { type LegalOutcome, legalGraph } from './graph.ts';
import type { LegalRules } from './rules.ts';

/**
 * Out: the graph of those lines, or where every line ends. First the most changes on time, then, where that is asked for, the
 * fewest notes until each proof. Where the grader lets outside notes approach, they are among the lines; where it excuses one
 * only by the line-up allowance, it is let in only where no line within the palettes does as well: at such a level an example
 * should be heard in its palettes. Own rule.
 */
export function bestGraph(entries: readonly LineEntry[], rules: LegalRules): LegalOutcome {
  if (rules.approach === 'allow' || rules.lineUp === 'flag')
    return bestOf(legalGraph(entries, rules));
  const within = legalGraph(entries, { ...rules, outside: false });
  const inside = within.ok ? outlookOf(within.graph) : null;
  if (within.ok && inside !== null && inside.least === 0) {
    return { ok: true, graph: bestPart(within.graph, inside) };
  }
  const all = legalGraph(entries, rules);
  if (!all.ok) return all;
  const outlook = outlookOf(all.graph);
  if (within.ok && inside !== null && inside.least <= outlook.least) {
    return { ok: true, graph: bestPart(within.graph, inside) };
  }
  return { ok: true, graph: bestPart(all.graph, outlook) };
}

function bestOf(legal: LegalOutcome): LegalOutcome {
  return legal.ok ? { ok: true, graph: bestPart(legal.graph, outlookOf(legal.graph)) } : legal;
}
