/** Files dropped on the page, as from a file manager. */

import type { Page } from 'playwright';

export async function drop(page: Page, name: string, bytes: Buffer): Promise<void> {
  const transfer = await page.evaluateHandle(
    ({ base64, fileName }) => {
      const data = new DataTransfer();
      const content = Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
      data.items.add(new File([content], fileName));
      return data;
    },
    { base64: bytes.toString('base64'), fileName: name },
  );
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
}
