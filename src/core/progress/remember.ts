/** What was told of a thing is told again without being reckoned again: histories are long, and little of them changes. */

/** A function that remembers its answers by the identity of what it is asked about. `tell` must depend on nothing else. */
export function rememberBy<Key extends object, Value>(
  tell: (key: Key) => Value,
): (key: Key) => Value {
  const known = new WeakMap<Key, { readonly value: Value }>();
  return (key) => {
    const before = known.get(key);
    if (before !== undefined) return before.value;
    const value = tell(key);
    known.set(key, { value });
    return value;
  };
}
