/** The program's drawings as pictures of any size, by Chromium. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright';

const folder = join(import.meta.dirname, '..', '..', 'packaging');

/** Up to this size the drawing without notes is clearer. */
const LARGEST_SMALL = 32;

/** The share of a macOS icon's side that its field takes; the rest is left for its shadow. From memory: 824 of 1024. */
export const MAC_SHARE = 824 / 1024;

/** A PNG of a size in pixels; the drawing takes `share` of its side, in the middle. */
export async function drawIcon(browser: Browser, size: number, share: number): Promise<Buffer> {
  const name = size <= LARGEST_SMALL ? 'icon-small.svg' : 'icon.svg';
  const drawing = readFileSync(join(folder, name), 'utf8');
  const page = await browser.newPage({ viewport: { width: size, height: size } });
  const side = size * share;
  const style = `body{margin:0}svg{position:absolute;width:${side}px;inset:${(size - side) / 2}px}`;
  await page.setContent(`<style>${style}</style>${drawing}`);
  const png = await page.screenshot({ omitBackground: true });
  await page.close();
  return png;
}
