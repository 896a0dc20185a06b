/**
 * A drill as a walk: from each note there is one way on, given by the drill's rule. Only where a palette differs rising
 * and falling are there several, in order of preference, since such a tone is inside or outside by the move after it;
 * then the first walk is taken in which every tone is in its palette by the grader.
 */

import { allowsMove, CLAIMS } from '../legal/claims.ts';
import type { LegalRules } from '../legal/rules.ts';
import { toneOptions } from '../legal/tone-options.ts';
import type { Register } from '../wish.ts';
import type { DrillPlace } from './drill-places.ts';
import { isTwoWay } from './tones.ts';

/** A note of a walk, and where in its figure the drill stands there. */
export interface Stand<Pose> {
  readonly midi: number;
  readonly pose: Pose;
}

export interface WalkRule<Pose> {
  /** The notes a walk may begin with. */
  starts(): readonly Stand<Pose>[];
  /** The notes that may follow at a slot; empty where the rule ends. */
  next(slot: number, from: Stand<Pose>): readonly Stand<Pose>[];
  /** A whole number that tells poses apart. */
  poseKey(pose: Pose): number;
}

export type WalkOutcome =
  | { readonly ok: true; readonly midis: readonly number[] }
  /** The furthest slot that got no note, and whether the rule had one to offer for it. */
  | { readonly ok: false; readonly atSlot: number; readonly offered: boolean };

/** The ways on by groups, preferred ones first: over a palette of one form the first group that is not empty. */
export function waysOn<Value>(
  { palette }: DrillPlace,
  ...groups: readonly (readonly Value[])[]
): readonly Value[] {
  return isTwoWay(palette) ? groups.flat() : (groups.find((group) => group.length > 0) ?? []);
}

interface Step<Pose> extends Stand<Pose> {
  readonly claim: number;
}

/** Walks from the first place to the last. Notes that have led nowhere are not tried again. */
export function walk<Pose>(
  places: readonly DrillPlace[],
  register: Register,
  rule: WalkRule<Pose>,
): WalkOutcome {
  const rules = insideRules(register);
  const path: Step<Pose>[] = [];
  const open: Stand<Pose>[][] = [[...rule.starts()]];
  const dead = new Set<string>();
  let atSlot = 0;
  let offered = (open[0]?.length ?? 0) > 0;

  while (path.length < places.length) {
    const slot = path.length;
    const stand = open[slot]?.shift();
    if (stand === undefined) {
      const last = path.pop();
      if (last === undefined) return { ok: false, atSlot, offered };
      open.pop();
      dead.add(deadKey(slot - 1, last, rule));
      continue;
    }
    const step = stepTo(places[slot], path.at(-1), stand, rules);
    if (step === null || dead.has(deadKey(slot, step, rule))) continue;
    path.push(step);
    if (path.length === places.length) break;
    const ways = [...rule.next(path.length, stand)];
    open.push(ways);
    if (path.length > atSlot) {
      atSlot = path.length;
      offered = ways.length > 0;
    }
  }
  return { ok: true, midis: path.map(({ midi }) => midi) };
}

function deadKey<Pose>(slot: number, { midi, claim, pose }: Step<Pose>, rule: WalkRule<Pose>) {
  return `${slot} ${midi} ${claim} ${rule.poseKey(pose)}`;
}

/** The stand with what it asks of the note after it, or null when the note cannot follow or is outside. */
function stepTo<Pose>(
  place: DrillPlace | undefined,
  before: Step<Pose> | undefined,
  stand: Stand<Pose>,
  rules: LegalRules,
): Step<Pose> | null {
  if (place === undefined) return null;
  const move = before === undefined ? 0 : stand.midi - before.midi;
  const asked = before === undefined ? undefined : CLAIMS[before.claim];
  if (asked !== undefined && !allowsMove(asked, move)) return null;
  const [reading] = toneOptions(place.entry, stand.midi % 12, Math.sign(move), rules);
  return reading === undefined ? null : { ...stand, claim: reading.claim };
}

/** Every note inside its palette; intervals are the drill's own affair. */
function insideRules(register: Register): LegalRules {
  return {
    level: 'leaps',
    approach: 'flag',
    repeats: 'allow',
    lineUp: 'flag',
    register,
    startMidi: null,
    afterMidi: null,
    earliest: true,
    outside: false,
    twoWay: true,
  };
}
