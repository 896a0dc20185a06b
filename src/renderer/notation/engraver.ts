/** The engraving library, VexFlow 5.0.0, and its music font, Bravura, loaded when a staff is first drawn. */

import bravura from '@vexflow-fonts/bravura/bravura.woff2?url';

const importEngraver = () => import('vexflow/core');

export type Engraver = Awaited<ReturnType<typeof importEngraver>>;

let loading: Promise<Engraver> | null = null;

/** The library, its font ready: it measures what it draws. */
export function loadEngraver(): Promise<Engraver> {
  loading ??= load();
  return loading;
}

async function load(): Promise<Engraver> {
  const font = new FontFace('Bravura', `url(${bravura})`);
  const [engraver] = await Promise.all([importEngraver(), font.load()]);
  document.fonts.add(font);
  engraver.VexFlow.setFonts('Bravura');
  return engraver;
}
