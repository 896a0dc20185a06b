/** What the page reads from its host and keeps while it is shown, and of what changes each answer becomes another. */

import type { CallName, Changing } from '../../../shared/bridge/index.ts';

/** What is told of progress comes from takes, from charts and from the goals among the settings. */
const PROGRESS = ['takes', 'charts', 'settings'] as const;

/** One row a question. What a screen reads on the way of something it does, as the chart that is copied, it asks the bridge itself. */
export const QUESTIONS = {
  'host.info': ['host'],
  'library.state': ['library'],
  /** Each tells when it was last played. */
  'charts.list': ['charts', 'takes'],
  'charts.melody': ['charts'],
  'takes.open': ['takes'],
  'takes.list': ['takes'],
  'takes.get': ['takes'],
  'journal.takes': ['takes'],
  'journal.remarks': ['journal'],
  'progress.practices': PROGRESS,
  'progress.practice': PROGRESS,
  'progress.session': PROGRESS,
  'progress.ladder': PROGRESS,
  'progress.heat': PROGRESS,
  'settings.get': ['settings'],
  'devices.list': ['devices'],
  /** They come with the program. */
  'demos.list': [],
} as const satisfies Partial<Record<CallName, readonly Changing[]>>;

export type QuestionName = keyof typeof QUESTIONS;

export function dependsOn(name: QuestionName, what: Changing): boolean {
  const parts: readonly Changing[] = QUESTIONS[name];
  return parts.includes(what);
}
