/** Each key against its click: early to the left, late to the right, the offset proposed as an upright. */

interface SpreadPictureProps {
  readonly keys: readonly { readonly offsetMs: number; readonly counts: boolean }[];
  readonly latencyMs: number;
}

const WIDTH = 640;
const HEIGHT = 90;
const LEAST_SPAN_MS = 60;

export function SpreadPicture({ keys, latencyMs }: SpreadPictureProps) {
  const span = Math.max(LEAST_SPAN_MS, ...keys.map(({ offsetMs }) => Math.abs(offsetMs) * 1.1));
  const x = (offsetMs: number): number => (0.5 + offsetMs / span / 2) * WIDTH;
  return (
    <svg className="spread" viewBox={`0 0 ${WIDTH} ${HEIGHT}`} aria-hidden="true">
      <line className="spread-click" x1={x(0)} x2={x(0)} y1={0} y2={HEIGHT} />
      <line className="spread-offset" x1={x(latencyMs)} x2={x(latencyMs)} y1={0} y2={HEIGHT} />
      {keys.map(({ offsetMs, counts }, beat) => {
        const y = 8 + (beat * (HEIGHT - 16)) / Math.max(1, keys.length - 1);
        const key = `${beat}`;
        return (
          <circle
            key={key}
            className={counts ? 'spread-key' : 'spread-key out'}
            cx={x(offsetMs)}
            cy={y}
            r={4}
          />
        );
      })}
    </svg>
  );
}
