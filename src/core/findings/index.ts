/** What a report found, in words: for the terminal page and the review screen alike. */

export { cleanRates } from './clean-rates.ts';
export { type Finding, findings, type Paragraph } from './findings.ts';
export { mapFindings } from './map-findings.ts';
export { counted, ms, percent, placeOf } from './places.ts';
export { playedBackFindings } from './played-back.ts';
export { describeReading, ratioWords, readingRemedy } from './reading-words.ts';
