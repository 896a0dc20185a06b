/** Files a player saves: handed to the browser's, or the desktop's, own way of saving. */

/** A title as the name of a file, without its ending. */
export function fileName(title: string): string {
  return title.replace(/[^\p{L}\p{N}]+/gu, '-').toLowerCase();
}

/** Offers content for saving under a name. */
export function saveFile(name: string, content: Uint8Array | Blob | string, type: string): void {
  const part = content instanceof Uint8Array ? new Uint8Array(content) : content;
  const url = URL.createObjectURL(new Blob([part], { type }));
  const link = document.createElement('a');
  link.href = url;
  link.download = name;
  link.click();
  URL.revokeObjectURL(url);
}

/** A score under a name without its ending. Source of the type: MusicXML 4.0, "MIME types". */
export function saveMusicXml(name: string, score: string): void {
  saveFile(`${name}.musicxml`, score, 'application/vnd.recordare.musicxml+xml');
}

/** A MIDI file under a name without its ending. */
export function saveMidi(name: string, file: Uint8Array): void {
  saveFile(`${name}.mid`, file, 'audio/midi');
}
