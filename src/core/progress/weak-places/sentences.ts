/** Weak places and their drills in words. */

import { counted, percent } from '../../findings/index.ts';
import { describeChange, describeObstacle } from '../sentences.ts';
import type { BarRange, DrillState } from './drill.ts';
import type { PlaceCause, RankedPlace } from './weak-places.ts';

const MOST_CAUSES = 3;

/** `bar 7`, `bars 7 and 8`, `bars 6 to 9`. */
export function describeBars({ from, to }: BarRange): string {
  if (from === to) return `bar ${from}`;
  return to === from + 1 ? `bars ${from} and ${to}` : `bars ${from} to ${to}`;
}

/** One to three sentences: how clean, how sure, what went wrong. */
export function describePlace(place: RankedPlace): string {
  const { clean, slots, takes, interval, standing, elsewhereRate, causes } = place;
  const bars = describeBars(place);
  const named = `${bars.charAt(0).toUpperCase()}${bars.slice(1)}`;
  const seen = `${clean} of ${counted(slots, 'slot')} clean in ${counted(takes, 'take')}`;
  const sure =
    standing === 'surely'
      ? `, surely ${percentUp(interval.upper)} or less`
      : ', too few to be sure';
  const elsewhere = elsewhereRate === null ? '' : `; ${percent(elsewhereRate)} elsewhere`;
  const wrong = causes.slice(0, MOST_CAUSES).map(describeCause);
  const most = wrong.length === 0 ? '' : ` Most often: ${wrong.join('; ')}.`;
  return `${named}: ${seen}${sure}${elsewhere}.${most}`;
}

/** Upper bounds are rounded up, as lower ones are down: neither claims more than is known. */
function percentUp(share: number): string {
  return `${Math.ceil(share * 100 - 1e-9)} %`;
}

function describeCause(cause: PlaceCause): string {
  const times = counted(cause.count, 'time');
  return cause.kind === 'fault'
    ? `${cause.fault}, ${times}`
    : `${describeChange(cause.change)} not on time, ${times}`;
}

/** What to do with a drill, and what is missing. */
export function describeDrill(state: DrillState, bars: BarRange): string {
  if (state.kind === 'backInContext') {
    return `It holds alone at ${state.tempoBpm}: play it in the whole form again.`;
  }
  // A rate told from nothing says nothing.
  const told = state.obstacles.filter((one) => one.kind !== 'cleanRate' || one.lower > 0);
  const missing = told.map(describeObstacle).join(' ');
  return `Loop ${describeBars(bars)} at ${state.tempoBpm} until it holds. ${missing}`.trim();
}
