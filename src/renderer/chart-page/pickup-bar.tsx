/** The pickup as a short bar before bar 1. */

import './pickup.css';
import type { ReactNode } from 'react';
import { beatsPerBar, describePickup, type Form, type FormPickup } from '../../core/chart/index.ts';
import { BarChords } from './bar-chords.tsx';

/** As wide as its whole beats are in a bar beside it. */
export function pickupWidth({ meter }: FormPickup, form: Form): string {
  const inBar = beatsPerBar(form.bars[0]?.meter ?? form.meter);
  return `calc(var(--bar-share) * ${beatsPerBar(meter) / inBar})`;
}

interface PickupBarProps {
  readonly form: Form;
  readonly pickup: FormPickup;
  readonly showPalettes: boolean;
  readonly isCurrent: boolean;
  readonly isResting: boolean;
  /** What stands under its chords. */
  readonly content: ReactNode;
}

export function PickupBar(props: PickupBarProps) {
  const { form, pickup, showPalettes, isCurrent, isResting, content } = props;
  const state = isCurrent ? ' sounding' : isResting ? ' resting' : '';
  return (
    <section aria-label={`pickup, ${describePickup(pickup)}`} className="pickup-row">
      <div className={`pickup${state}`} style={{ width: pickupWidth(pickup, form) }}>
        <BarChords chords={pickup.chords} showPalettes={showPalettes} />
        {content}
      </div>
      <span className="pickup-words">pickup, {describePickup(pickup)}</span>
    </section>
  );
}
