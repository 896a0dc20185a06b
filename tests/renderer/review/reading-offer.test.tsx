// @vitest-environment happy-dom
/** What the review offers where a take can be read otherwise. Expected: `grading.md`, "Other readings": said first, one press, undone. */

import { cleanup, screen } from '@testing-library/react';
import { afterEach, describe, expect, test } from 'vitest';
import type { TakeDecision, TakeRecord, TakeSetUp } from '../../../shared/bridge/index.ts';
import { useAnswer } from '../../../src/renderer/data/index.ts';
import { readPracticeChoice } from '../../../src/renderer/prepare/practice-choice.ts';
import { readRecord } from '../../../src/renderer/prepare/read-record.ts';
import { ReadingOffer } from '../../../src/renderer/screens/review/reading-offer.tsx';
import { type FakeHost, fakeHost, renderInProgram } from '../../helpers/program-around.tsx';
import { setUpFor } from '../../helpers/set-up.ts';

const SLOTS = 84;
const { grade, ...onPier } = setUpFor();
const { latencyMs: _latency, splitMidi: _split, ...ofSources } = grade;
const SET_UP: TakeSetUp = { ...onPier, grade: ofSources };

/** Up and down the scale, steadily late, and swung by a ratio: at 60 an eighth lasts 500 ms. */
function played(lateMs: number, ratio: number): TakeRecord {
  const keys = [60, 62, 64, 65, 67, 65, 64, 62];
  const events = Array.from({ length: SLOTS }, (_, slot) => {
    const midi = keys[slot % keys.length] ?? 60;
    const beatMs = Math.floor(slot / 2) * 1000;
    const atMs = beatMs + (slot % 2 === 1 ? (1000 * ratio) / (1 + ratio) : 0) + lateMs;
    return [
      { kind: 'noteOn' as const, atMs, midi, velocity: 70 },
      { kind: 'noteOff' as const, atMs: atMs + 200, midi },
    ];
  }).flat();
  const { chartText: _text, model: _model, ...rowSetUp } = SET_UP;
  return {
    row: {
      ...{ takeId: 'one', startedAtMs: 0, endMs: SLOTS * 500, note: '' },
      ...{ figures: null, state: 'finished', setUp: rowSetUp },
    },
    setUp: SET_UP,
    events,
    sources: [{ name: 'Stage 88', latencyMs: 0, splitMidi: null }],
    breaks: [],
    readings: null,
    decision: null,
  };
}

interface OfferProps {
  readonly onCalibrate: (name: string) => void;
}

/** The offer over the take the host has. */
function Offer({ onCalibrate }: OfferProps) {
  const { value: record } = useAnswer('takes.get', { takeId: 'one' });
  if (record === null) return null;
  const read = readRecord(record);
  if (!read.ok || read.value.reading === null) return <p>nothing to say</p>;
  const { report, reading, isUndecided } = read.value;
  return (
    <>
      <p>
        {report.summary.late} late, {isUndecided ? 'undecided' : 'decided'}
      </p>
      <ReadingOffer record={record} told={reading} onCalibrate={onCalibrate} />
    </>
  );
}

/** Draws it, with a host that keeps the decision. */
function offer(take: TakeRecord) {
  let decision: TakeDecision | null = null;
  const host: FakeHost = fakeHost({
    answers: {
      'takes.decide': (request) => {
        decision = request['decision'] as TakeDecision | null;
        host.push({ kind: 'changed', what: 'takes' });
        return {};
      },
      'takes.get': () => ({ ...take, decision }),
    },
  });
  const calibrated: string[] = [];
  renderInProgram(<Offer onCalibrate={(name) => calibrated.push(name)} />, host);
  return { host, calibrated };
}

const press = async (name: string): Promise<void> => (await screen.findByText(name)).click();

afterEach(cleanup);

describe('the review', () => {
  test('says a steady swing, grades by it at one press, keeps it for the player, and undoes it', async () => {
    const { host } = offer(played(0, 2));
    const swingOf = async (chartId: string) => {
      const reply = await host.bridge.ask('settings.get', {});
      return reply.ok ? readPracticeChoice(reply.value, chartId).swing : null;
    };
    await screen.findByText(/^You swing 2\.0 : 1 where straight is set\./);
    await screen.findByText('42 late, undecided');
    expect(screen.queryByText(/^Calibrate/)).toBe(null);

    await press('Grade by it');
    await screen.findByText('0 late, decided');
    await screen.findByText(/^The take is graded by that/);
    await expect.poll(() => swingOf('pier')).toBe(2);
    expect(await swingOf('another chart')).toBe(2);

    await press('Undo');
    await screen.findByText('42 late, undecided');
    await expect.poll(() => swingOf('pier')).toBe(1);
  });

  test('says a steady offset and leads to calibrating its keyboard', async () => {
    const { host, calibrated } = offer(played(80, 1));
    await screen.findByText(
      /^You play a steady 80 ms late\. Calibrate the keyboard and grade again\./,
    );
    await press('Calibrate Stage 88');
    expect(calibrated).toEqual(['Stage 88']);
    await press('Grade by it');
    await screen.findByText('0 late, decided');
    // An offset is no swing: nothing is kept.
    expect(host.asked.filter(({ name }) => name === 'settings.set')).toEqual([]);
  });

  test('leaves the take as it is where the player says so', async () => {
    offer(played(80, 1));
    await press('Leave it as it is');
    await screen.findByText(`${SLOTS} late, decided`);
    await screen.findByText('You left the take as it is.');
    await press('Undo');
    await screen.findByText(`${SLOTS} late, undecided`);
  });

  test('says nothing of a take that fits as it is', async () => {
    offer(played(0, 1));
    await screen.findByText('nothing to say');
  });
});
