/** What went wrong, in words, read aloud when it comes; nothing while nothing did. */

export function FailureNotice({ words }: { readonly words: string | null }) {
  return words === null ? null : (
    <p className="notice" role="alert">
      {words}
    </p>
  );
}
