/** The icons in the repository are those of the drawings as they stand. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { drawIcon } from '../../scripts/icons/draw.ts';
import { openBrowser } from './start-program.ts';
import { root } from './the-program.ts';

/** How far two pictures lie apart, 0 to 255, on average over all pixels and channels. */
function distance(page: Page, pngs: readonly Buffer[]): Promise<number> {
  return page.evaluate(
    async (encoded) => {
      const pixels: Uint8ClampedArray[] = [];
      for (const png of encoded) {
        const image = new Image();
        image.src = `data:image/png;base64,${png}`;
        await image.decode();
        const canvas = new OffscreenCanvas(image.width, image.height).getContext('2d');
        canvas?.drawImage(image, 0, 0);
        pixels.push(
          canvas?.getImageData(0, 0, image.width, image.height).data ?? new Uint8ClampedArray(),
        );
      }
      const [first = new Uint8ClampedArray(), second = new Uint8ClampedArray()] = pixels;
      if (first.length !== second.length) return 255;
      return (
        first.reduce((sum, value, at) => sum + Math.abs(value - (second[at] ?? 0)), 0) /
        first.length
      );
    },
    pngs.map((png) => png.toString('base64')),
  );
}

test.each([32, 256])('at %s pixels', async (size) => {
  const browser = await openBrowser();
  const page = await browser.newPage();
  const kept = readFileSync(join(root, 'packaging', 'icons', `${size}x${size}.png`));
  // Browsers differ in how they smooth an edge; a drawing that was changed lies further off.
  expect(await distance(page, [kept, await drawIcon(browser, size, 1)])).toBeLessThan(0.15);
  await browser.close();
});
