/**
 * Which candidates make a session, in which order. Of every five things two are due, one is near a raise, one a weak place and
 * one new, so that kinds alternate; a kind with nothing left gives its turn to the next. No practice is played whole
 * twice, and two new things are enough for a day. Own rules; that things in turn are kept better than one thing at a
 * stretch is common practice, no source.
 */

import type { Candidates } from './candidates.ts';
import { type Candidate, type ItemKind, playName } from './model.ts';

const TURNS: readonly ItemKind[] = ['due', 'nearRaise', 'weakPlace', 'due', 'newThing'];
const KINDS: readonly ItemKind[] = ['due', 'nearRaise', 'weakPlace', 'newThing'];
const MOST_NEW = 2;

export interface Mix {
  readonly chosen: readonly Candidate[];
  /** The rest, in the order it would have been chosen. */
  readonly spare: readonly Candidate[];
}

/** Chooses at most `count` candidates that go along with those `kept`. */
export function mixOf(candidates: Candidates, count: number, kept: readonly Candidate[]): Mix {
  const chosen: Candidate[] = [];
  for (let turn = 0; chosen.length < count; turn++) {
    const next = inTurn(turn).flatMap((kind) =>
      candidates[kind].filter((one) => goesAlong(one, [...kept, ...chosen])),
    )[0];
    if (next === undefined) break;
    chosen.push(next);
  }
  const rest = KINDS.flatMap((kind) => candidates[kind]);
  return { chosen, spare: rest.filter((one) => !chosen.includes(one)) };
}

function inTurn(turn: number): readonly ItemKind[] {
  const first = TURNS[turn % TURNS.length] ?? 'due';
  return [first, ...KINDS.filter((kind) => kind !== first)];
}

/** Whether a candidate may join a session that has these already. */
export function goesAlong({ play, why }: Candidate, session: readonly Candidate[]): boolean {
  const isNew = why.kind === 'newThing';
  return (
    session.every((other) => playName(other.play) !== playName(play)) &&
    !(isNew && session.filter((other) => other.why.kind === 'newThing').length >= MOST_NEW)
  );
}
