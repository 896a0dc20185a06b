/** Files a player opens in the page: chosen in a dialog, dropped on it, or handed over by the desktop. */

import { HAND_OVER_ENDING } from '../../../shared/hand-over-ending.ts';

export interface OpenedFile {
  readonly name: string;
  readonly bytes: Uint8Array;
}

/** A file that is read when its turn comes: a folder may hold thousands. */
export interface WaitingFile {
  readonly name: string;
  read(): Promise<OpenedFile>;
}

export function isMidiFile(name: string): boolean {
  return /\.midi?$/i.test(name);
}

export function isChartFile(name: string): boolean {
  return /\.(changes|chart|musicxml|mxl|xml)$/i.test(name);
}

export function isHandOverFile(name: string): boolean {
  return name.toLowerCase().endsWith(HAND_OVER_ENDING);
}

/** Reads a file of a dialog or a drop. */
export async function readFile(file: File): Promise<OpenedFile> {
  return { name: file.name, bytes: new Uint8Array(await file.arrayBuffer()) };
}

/** A file of a dialog or a drop that waits for its turn. */
export function waitingFile(file: File): WaitingFile {
  return { name: file.name, read: () => readFile(file) };
}

/** Calls back with what was dropped anywhere on the page, folders opened, until the signal is aborted. */
export function listenToDrops(
  target: Pick<Window, 'addEventListener'>,
  onFiles: (files: readonly WaitingFile[]) => void,
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
      const { items, files } = event.dataTransfer ?? {};
      // Entries must be asked for before the handler returns; a drop made by a script has none.
      const entries = [...(items ?? [])].map((item) => item.webkitGetAsEntry());
      if (entries.some((entry) => entry?.isDirectory)) {
        void filesBelow(entries.filter((entry) => entry !== null)).then(onFiles);
      } else onFiles([...(files ?? [])].map(waitingFile));
    },
    { signal },
  );
}

async function filesBelow(entries: readonly FileSystemEntry[]): Promise<readonly WaitingFile[]> {
  const lists = await Promise.all(
    entries.map(async (entry) => {
      if (isFile(entry))
        return [{ name: entry.name, read: async () => readFile(await fileOf(entry)) }];
      return isFolder(entry) ? filesBelow(await childrenOf(entry)) : [];
    }),
  );
  return lists.flat();
}

function isFile(entry: FileSystemEntry): entry is FileSystemFileEntry {
  return entry.isFile;
}

function isFolder(entry: FileSystemEntry): entry is FileSystemDirectoryEntry {
  return entry.isDirectory;
}

function fileOf(entry: FileSystemFileEntry): Promise<File> {
  return new Promise((resolve, reject) => entry.file(resolve, reject));
}

/** A reader hands a folder out in pieces and an empty one at the end. */
async function childrenOf(folder: FileSystemDirectoryEntry): Promise<readonly FileSystemEntry[]> {
  const reader = folder.createReader();
  const children: FileSystemEntry[] = [];
  for (;;) {
    const piece = await new Promise<FileSystemEntry[]>((resolve, reject) =>
      reader.readEntries(resolve, reject),
    );
    if (piece.length === 0) return children;
    children.push(...piece);
  }
}
