/** The order in which a chart is learned. The door to this folder. */

export {
  isSameKey,
  type Ladder,
  type LadderChart,
  ladderOf,
  type Rung,
  type RungPlace,
} from './ladder.ts';
export { describeRung } from './sentences.ts';
