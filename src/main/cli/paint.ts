/** Colour for text on a terminal, and only there. */

import picocolors from 'picocolors';

export type Paint = ReturnType<typeof picocolors.createColors>;

/** The parts of an output stream that decide whether it takes colour. */
export interface ColourTarget {
  readonly isTTY?: boolean;
}

/** The settings that may refuse colour. */
export interface ColourSettings {
  readonly NO_COLOR?: string | undefined;
  readonly TERM?: string | undefined;
}

/**
 * Colours for one stream. They are plain text unless the stream is a terminal that takes colour; `NO_COLOR` with
 * any value but the empty one turns them off (https://no-color.org), and so does `TERM=dumb`.
 */
export function paint(stream: ColourTarget, env: ColourSettings): Paint {
  const refused = (env.NO_COLOR ?? '') !== '' || env.TERM === 'dumb';
  return picocolors.createColors(stream.isTTY === true && !refused);
}
