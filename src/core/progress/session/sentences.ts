/** Why a thing is proposed, in words. */

import { counted, percent } from '../../findings/index.ts';
import { PLAIN } from '../../words.ts';
import { describeObstacle } from '../sentences.ts';
import { LONGEST_REST_DAYS } from '../spacing/index.ts';
import { daysAgo } from '../standing/sentences.ts';
import { describeBars } from '../weak-places/index.ts';
import { isPlayed, type Play, type SessionItem, type Why } from './model.ts';

/** One sentence for each item; a raise that lacks something adds what. */
export function describeItem(item: SessionItem): string {
  return isPlayed(item)
    ? describeWhy(item.why, item.play)
    : `Rest your hands for ${counted(item.minutes, 'minute')}; if anything hurts, stop for today.`;
}

function describeWhy(why: Why, play: Play): string {
  switch (why.kind) {
    case 'due':
      return describeDueItem(why);
    case 'nearRaise':
      return why.obstacles.length === 0
        ? `It holds at ${why.presentBpm}, so try ${play.tempoBpm}.`
        : `Close to a raise from ${why.presentBpm}: ${lowered(why.obstacles.map(describeObstacle).join(' '))}`;
    case 'weakPlace':
      return `Only ${why.clean} of ${counted(why.slots, 'slot')} are clean in ${describeBars(why.place)} at ${why.contextBpm}, so loop them alone at ${play.tempoBpm} until they hold.`;
    case 'newThing':
      return why.fromBpm === null
        ? `Not begun yet: ${rungWords(play)}, slower than feels necessary.`
        : `Next on the ladder: ${rungWords(play)}, now that the rung before has held at ${why.fromBpm}.`;
  }
}

function describeDueItem({ daysSince, reason, retrievability }: Why & { kind: 'due' }): string {
  const last = `last played ${daysAgo(daysSince)}`;
  if (retrievability === null) return `Begun, ${last}, and too little to tell how it stands.`;
  return reason === 'goalAhead'
    ? `Due again: ${last}, and until its goal has held it rests ${LONGEST_REST_DAYS} days at most.`
    : `Due again: ${last}, and by now still there with a chance of about ${percent(retrievability)}.`;
}

function lowered(sentence: string): string {
  return sentence.charAt(0).toLowerCase() + sentence.slice(1);
}

function rungWords({ level, plan, key }: Play): string {
  return `${level} in ${key}${plan === PLAIN ? '' : ` over the plan ${plan}`}`;
}
