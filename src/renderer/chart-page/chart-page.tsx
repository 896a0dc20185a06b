/** The chart's page: sections, bars in rows of four, chords; what else a bar shows is the caller's. */

import './chart-page.css';
import { memo, type ReactNode } from 'react';
import {
  type Form,
  type FormBar,
  formatMeter,
  isSameMeter,
  PICKUP_BAR,
} from '../../core/chart/index.ts';
import { BarChords } from './bar-chords.tsx';
import { PickupBar } from './pickup-bar.tsx';

interface ChartPageProps {
  readonly form: Form;
  readonly showPalettes?: boolean;
  /** The bar marked as the present one. */
  readonly currentBar?: number | null;
  /** The bars that are practised; the others are drawn back. Null for all. */
  readonly range?: { readonly from: number; readonly to: number } | null;
  /** What stands under the chords of a bar. */
  readonly children?: (bar: FormBar) => ReactNode;
  /** What stands under those of the pickup. */
  readonly inPickup?: ReactNode;
  /** Strength of a bar's tint from 0 to 1, or null for none. */
  readonly tintOf?: (bar: FormBar) => number | null;
}

function barClass(bar: number, currentBar: number | null, range: ChartPageProps['range']): string {
  if (bar === currentBar) return 'bar current';
  return range && (bar < range.from || bar > range.to) ? 'bar resting' : 'bar';
}

interface Run {
  readonly name: string | null;
  readonly bars: readonly FormBar[];
}

/** Bars of one section, as they follow one another. */
function runsOf(form: Form): readonly Run[] {
  const runs: { name: string | null; bars: FormBar[] }[] = [];
  for (const bar of form.bars) {
    const last = runs.at(-1);
    if (last !== undefined && !bar.beginsSection) last.bars.push(bar);
    else runs.push({ name: bar.section, bars: [bar] });
  }
  return runs;
}

/** The heat colour at a strength from 0 to 1; never so strong that ink on it is hard to read. */
export function tintColour(strength: number): string {
  return `color-mix(in srgb, var(--heat) ${Math.round(strength * 34)}%, transparent)`;
}

/** The page of a form. */
export function ChartPage(props: ChartPageProps) {
  const { form, currentBar = null, range = null, tintOf, children, showPalettes = false } = props;
  return (
    <div className="chart">
      {form.pickup !== null && (
        <PickupBar
          form={form}
          pickup={form.pickup}
          showPalettes={showPalettes}
          isCurrent={currentBar === PICKUP_BAR}
          isResting={range !== null && range.from > (form.bars[0]?.bar ?? 1)}
          content={props.inPickup}
        />
      )}
      {runsOf(form).map((run) => (
        <section key={run.bars[0]?.bar} aria-label={run.name ?? 'bars'}>
          {run.name !== null && <h2>{run.name}</h2>}
          <div className="bars">
            {run.bars.map((bar) => (
              <Bar
                key={bar.bar}
                bar={bar}
                meterBefore={form.bars[bar.bar - (form.bars[0]?.bar ?? 1) - 1]?.meter ?? form.meter}
                className={barClass(bar.bar, currentBar, range)}
                tint={tintOf?.(bar) ?? null}
                showPalettes={showPalettes}
                content={children?.(bar)}
              />
            ))}
          </div>
        </section>
      ))}
    </div>
  );
}

interface BarProps {
  readonly bar: FormBar;
  readonly meterBefore: FormBar['meter'];
  readonly className: string;
  readonly tint: number | null;
  readonly showPalettes: boolean;
  readonly content: ReactNode;
}

/** One bar. While a line is played it is drawn again only when what stands in it is another element. */
const Bar = memo((props: BarProps) => {
  const { bar, meterBefore, className, tint, showPalettes, content } = props;
  return (
    <div className={className} style={tint === null ? {} : { backgroundColor: tintColour(tint) }}>
      <span className="bar-number">
        <span className="hidden-words">bar </span>
        {isSameMeter(bar.meter, meterBefore) ? '' : `${formatMeter(bar.meter)} `}
        {bar.bar}
      </span>
      <BarChords chords={bar.chords} showPalettes={showPalettes} />
      {content}
    </div>
  );
});
