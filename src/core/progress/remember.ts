/** What was told of a thing is told again without being reckoned again: histories are long, and little of them changes. */

/**
 * A function that remembers its answers by the identity of what it is asked about. `tell` must depend on nothing else: what `help`
 * it is given may only save it work.
 */
export function rememberBy<Key extends object, Value, Help extends readonly unknown[] = []>(
  tell: (key: Key, ...help: Help) => Value,
): (key: Key, ...help: Help) => Value {
  const known = new WeakMap<Key, { readonly value: Value }>();
  return (key, ...help) => {
    const before = known.get(key);
    if (before !== undefined) return before.value;
    const value = tell(key, ...help);
    known.set(key, { value });
    return value;
  };
}
