/** The palette of one chord: why it is proposed, what changes to it, what else would serve, and a set of one's own. */

import { type ReactNode, useState } from 'react';
import type { Chart, FormChord, GivenPalette } from '../../../core/chart/index.ts';
import {
  groupAlternatives,
  PALETTE_REACHES,
  type PaletteReach,
  paletteChange,
} from '../../../core/plan/index.ts';
import { setNames } from '../../../core/set-names/index.ts';
import {
  type ChordSymbol,
  formatPaletteText,
  makeSpeller,
  NOTES_NAME,
  type Palette,
  paletteName,
  parsePaletteText,
} from '../../../core/theory/index.ts';
import { paletteScore } from '../../audio/index.ts';
import { ChordName } from '../../chart-page/chord-name.tsx';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { SelectField } from '../../look/fields.tsx';
import { withSigns } from '../../look/signs.ts';
import { ScaleStaff } from '../../notation/scale-staff.tsx';
import { KeyboardStrip } from '../../palette/keyboard-strip.tsx';
import { PaletteKeys } from '../../palette/palette-keys.tsx';
import { toneMoves } from '../../palette/palette-words.ts';
import { type Hearing, useHearing } from '../../session/use-hearing.ts';

interface PalettePanelProps {
  readonly chart: Chart;
  /** The bar as numbered on the page. */
  readonly bar: number;
  readonly chord: FormChord;
  readonly before: FormChord | null;
  readonly onSet: (reach: PaletteReach, given: GivenPalette | null) => void;
}

const REACH_WORDS: Readonly<Record<PaletteReach, string>> = {
  chord: 'this chord alone',
  function: 'this chord wherever it stands',
  quality: 'every chord of its kind, on any root',
};

function nameOf(palette: Palette): string {
  return withSigns(paletteName(palette));
}

export function PalettePanel({ chart, bar, chord, before, onSet }: PalettePanelProps) {
  const [reach, setReach] = useState<PaletteReach>('chord');
  const hearing = useHearing();
  const { symbol, chosen } = chord;
  if (symbol === null || chosen === null) {
    return <p className="soft">N.C. in bar {bar}: nothing is outside here.</p>;
  }
  const use = (palette: Palette): void =>
    onSet(reach, { text: formatPaletteText(palette, symbol.root), palette });
  return (
    <section className="palette-panel" aria-label="Palette">
      <h3 tabIndex={-1} data-focus-home>
        <ChordName text={symbol.text} /> in bar {bar}: {nameOf(chosen.palette)}
      </h3>
      <p>{chosen.given ? 'Named in the chart.' : `${chosen.reason}.`}</p>
      {chosen.palette.name === NOTES_NAME && <SetNames palette={chosen.palette} />}
      <div className="row">
        <ScaleStaff palette={chosen.palette} />
        <HearButton hearing={hearing} palette={chosen.palette} symbol={symbol} />
        {chosen.given && (
          <button type="button" onClick={() => onSet(reach, null)}>
            Let the program choose
          </button>
        )}
      </div>
      <FromBefore before={before} chord={chord} />
      <SelectField
        label="A palette chosen here is for"
        value={reach}
        options={PALETTE_REACHES.map((value) => ({ value, words: REACH_WORDS[value] }))}
        onChange={setReach}
      />
      {groupAlternatives(chord.alternatives).map(({ colour, alternatives }) => (
        <Group key={colour} title={colour}>
          {alternatives.map(({ palette, reason }) => (
            <li key={nameOf(palette)}>
              <button type="button" onClick={() => use(palette)}>
                {nameOf(palette)}
              </button>{' '}
              <HearButton hearing={hearing} palette={palette} symbol={symbol} />{' '}
              <span className="soft">{reason}</span>
            </li>
          ))}
        </Group>
      ))}
      <OwnNotes
        key={`${bar} ${symbol.text} ${nameOf(chosen.palette)}`}
        chart={chart}
        symbol={symbol}
        present={chosen.palette}
        hearing={hearing}
        onUse={use}
      />
      <FailureNotice words={hearing.failure} />
    </section>
  );
}

function Group({ title, children }: { readonly title: string; readonly children: ReactNode[] }) {
  return (
    <>
      <h4>{title}</h4>
      <ul className="plain-list">{children}</ul>
    </>
  );
}

interface HearButtonProps {
  readonly hearing: Hearing;
  readonly palette: Palette;
  readonly symbol: ChordSymbol;
}

function HearButton({ hearing, palette, symbol }: HearButtonProps) {
  return (
    <button
      type="button"
      aria-label={`Hear ${nameOf(palette)}`}
      onClick={() => void hearing.hear(paletteScore(palette, symbol).values())}
    >
      Hear
    </button>
  );
}

/** Which tones leave, arrive and stay on the way from the chord before. */
function FromBefore({
  before,
  chord,
}: {
  readonly before: FormChord | null;
  readonly chord: FormChord;
}) {
  const [old, present] = [before?.chosen?.palette, chord.chosen?.palette];
  if (before?.symbol == null || old === undefined || present === undefined) return null;
  const { rising, falling } = paletteChange(old, present);
  const said = (notes: readonly string[]): string => notes.map(withSigns).join(', ') || 'none';
  return (
    <div className="from-before">
      <KeyboardStrip moves={toneMoves(before, chord)} />
      <p>
        From <ChordName text={before.symbol.text} />: {said(rising.leaving)} leave,{' '}
        {said(rising.arriving)} arrive, {said(rising.common)} stay.
        {falling !== null &&
          ` Falling: ${said(falling.leaving)} leave, ${said(falling.arriving)} arrive.`}
      </p>
    </div>
  );
}

interface OwnNotesProps {
  readonly chart: Chart;
  readonly symbol: ChordSymbol;
  readonly present: Palette;
  readonly hearing: Hearing;
  readonly onUse: (palette: Palette) => void;
}

const FEWEST_NOTES = 2;

/** A set of the player's own, chosen by its keys. */
function OwnNotes({ chart, symbol, present, hearing, onUse }: OwnNotesProps) {
  const [chosen, setChosen] = useState<ReadonlySet<number>>(() => new Set(present.pcs));
  const speak = makeSpeller({ palette: present, symbol, key: chart.key });
  const name = (pc: number): string => speak(60 + pc).replace(/-?\d+$/u, '');
  const text = [...chosen].sort((a, b) => a - b).map(name);
  const read = parsePaletteText(text.join(' '), symbol.root);
  return (
    <details>
      <summary>Notes of your own</summary>
      <PaletteKeys
        chosen={chosen}
        nameOf={name}
        onToggle={(pc) => {
          const next = new Set(chosen);
          if (!next.delete(pc)) next.add(pc);
          setChosen(next);
        }}
      />
      {read.ok && chosen.size >= FEWEST_NOTES ? (
        <p className="row">
          <button type="button" onClick={() => onUse(read.value)}>
            Use {withSigns(read.value.notes.join(' '))}
          </button>
          <HearButton hearing={hearing} palette={read.value} symbol={symbol} />
        </p>
      ) : (
        <p className="soft">Choose at least two keys.</p>
      )}
      {read.ok && <SetNames palette={read.value} />}
    </details>
  );
}

/** What these notes are called, on any of them. */
function SetNames({ palette }: { readonly palette: Palette }) {
  const names = setNames(palette).map(({ text }) => withSigns(text));
  return (
    <p className="soft">
      {names.length === 0 ? 'No scale or chord has just these notes.' : `${names.join(', ')}.`}
    </p>
  );
}
