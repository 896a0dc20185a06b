/**
 * `npm run icons`: draws the icons again that packages carry, from the drawings in `packaging`. They are kept in the
 * repository, so that packaging needs no browser.
 */

import { copyFileSync, mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { chromium } from 'playwright';
import { ensureChromium } from '../ensure-chromium.mjs';
import { ICNS_KINDS, icnsOf, icoOf, type Picture } from './containers.ts';
import { drawIcon, MAC_SHARE } from './draw.ts';
import { ICO_SIZES, LINUX_SIZES } from './sizes.ts';

const packaging = join(import.meta.dirname, '..', '..', 'packaging');
const linux = join(packaging, 'icons');

ensureChromium();
const browser = await chromium.launch({
  executablePath: process.env['CHROMIUM'] ?? '/usr/bin/chromium',
  args: ['--no-sandbox', '--disable-gpu'],
});

async function draw(sizes: readonly number[], share: number): Promise<readonly Picture[]> {
  const pictures: Picture[] = [];
  for (const size of sizes) pictures.push({ size, png: await drawIcon(browser, size, share) });
  return pictures;
}

mkdirSync(linux, { recursive: true });
for (const { size, png } of await draw(LINUX_SIZES, 1)) {
  writeFileSync(join(linux, `${size}x${size}.png`), png);
}
writeFileSync(join(packaging, 'icon.ico'), icoOf(await draw(ICO_SIZES, 1)));
const macSizes = [...new Set(ICNS_KINDS.map(([, size]) => size))];
writeFileSync(join(packaging, 'icon.icns'), icnsOf(await draw(macSizes, MAC_SHARE)));
// The page's own icon is small wherever it is shown.
copyFileSync(
  join(packaging, 'icon-small.svg'),
  join(packaging, '..', 'src', 'renderer', 'public', 'icon.svg'),
);
await browser.close();
