/** How fast a tempo rises. The door to this folder. */

export {
  type DayTempo,
  GAIN_LEAST_DAYS,
  GAIN_LEAST_SPAN_DAYS,
  GAIN_WINDOW_DAYS,
  type RateOfGain,
  rateOfGain,
} from './rate-of-gain.ts';
export { describeGain } from './sentences.ts';
