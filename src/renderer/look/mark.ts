/** Of elements that are laid out already, marks one: a class more here and a class less there, and nothing moves. */

/** What it answers marks the element of a key, or none, and takes the mark from the one before. */
export function createMark<Key>(
  elements: ReadonlyMap<Key, Element>,
  look: string,
): (key: Key | null) => void {
  let marked: Element | null = null;
  return (key) => {
    const next = key === null ? null : (elements.get(key) ?? null);
    if (next === marked) return;
    marked?.classList.remove(look);
    next?.classList.add(look);
    marked = next;
  };
}
