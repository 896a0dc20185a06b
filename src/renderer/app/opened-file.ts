/** Files a player opens in the page: chosen in a dialog, dropped on it, or handed over by the desktop. */

export interface OpenedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

export function isMidiFile(name: string): boolean {
  return /\.midi?$/i.test(name);
}

export function isChartFile(name: string): boolean {
  return /\.chart$/i.test(name);
}

/** Reads a file of a dialog or a drop. */
export async function readFile(file: File): Promise<OpenedFile> {
  return { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) };
}

/** Calls back for each file dropped anywhere on the page, until the signal is aborted. */
export function listenToDrops(
  target: Pick<Window, 'addEventListener'>,
  onFile: (file: OpenedFile) => void,
  signal: AbortSignal,
): void {
  const holdsFiles = (event: DragEvent): boolean =>
    event.dataTransfer?.types.includes('Files') === true;
  target.addEventListener(
    'dragover',
    (event) => {
      if (holdsFiles(event)) event.preventDefault();
    },
    { signal },
  );
  target.addEventListener(
    'drop',
    (event) => {
      if (!holdsFiles(event)) return;
      event.preventDefault();
      for (const file of event.dataTransfer?.files ?? []) void readFile(file).then(onFile);
    },
    { signal },
  );
}
