/** Sound that does not begin: because it was stopped first, or because it cannot be had. */

/** What a start rejects with that was stopped before it sounded: nobody need be told. */
export function stoppedError(): Error {
  return new DOMException('stopped before it sounded', 'AbortError');
}

export function isStopped(error: unknown): boolean {
  return error instanceof Error && error.name === 'AbortError';
}

/** Sound that cannot be had, in words. */
export function soundFailureWords(error: unknown): string {
  const why = error instanceof Error ? error.message : String(error);
  return `The sound could not be started (${why}). Check the computer’s sound output and start again.`;
}
