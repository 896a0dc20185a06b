/** The place of the stage on the screen: React gives it an element and what is played, and leaves what is drawn there alone. */

import './stage.css';
import { useEffectEvent, useLayoutEffect, useRef } from 'react';
import { playOnStage, type Sounding, type StageScene, type Told } from './stage.ts';

interface StageIslandProps {
  readonly scene: StageScene;
  /** Another take or example: drawn from nothing. */
  readonly of: object | null;
  readonly sounding: () => Sounding | null;
  readonly onTold: (told: Told) => void;
}

export function StageIsland({ scene, of, sounding, onTold }: StageIslandProps) {
  const root = useRef<HTMLDivElement>(null);
  const ask = useEffectEvent(sounding);
  const tell = useEffectEvent(onTold);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another take is drawn from nothing
  useLayoutEffect(() => {
    if (root.current === null) return;
    const news = { sounding: () => ask(), onTold: (told: Told) => tell(told) };
    return playOnStage(root.current, scene, news);
  }, [scene, of]);
  return <div className="stage-live" ref={root} />;
}

/** Hatches of the old palette, on the line and on the keys; defined once. */
export function StagePatterns() {
  return (
    <svg width="0" height="0" aria-hidden="true" className="hidden-words">
      <defs>
        <Hatch id="stage-late" size={9} width={2.5} colour="var(--outside)" />
        <Hatch id="stage-old" size={6} width={2} colour="var(--ink-2)" />
      </defs>
    </svg>
  );
}

interface HatchProps {
  readonly id: string;
  readonly size: number;
  readonly width: number;
  readonly colour: string;
}

function Hatch({ id, size, width, colour }: HatchProps) {
  return (
    <pattern
      id={id}
      width={size}
      height={size}
      patternUnits="userSpaceOnUse"
      patternTransform="rotate(45)"
    >
      <path d={`M1.5 0V${size}`} stroke={colour} strokeWidth={width} />
    </pattern>
  );
}
