/** Progress on standard error: one line that is written over on a terminal, a line each elsewhere. */

export interface Progress {
  next(name: string): void;
  end(): void;
}

/** Counts through `total` things; with a total of 0 it says nothing. */
export function createProgress(
  stream: { readonly isTTY?: boolean; readonly columns?: number; write(text: string): unknown },
  total: number,
): Progress {
  let done = 0;
  return {
    next(name) {
      if (total === 0) return;
      done++;
      const line = `${done} of ${total}  ${name}`;
      const width = (stream.columns ?? 80) - 1;
      stream.write(stream.isTTY ? `\r\x1b[K${line.slice(0, width)}` : `${line}\n`);
    },
    end() {
      if (total > 0 && stream.isTTY) stream.write('\r\x1b[K');
    },
  };
}
