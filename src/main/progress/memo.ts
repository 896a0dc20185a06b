/** What is made once, when it is first asked for. */

export function memo<Value>(make: () => Value): () => Value {
  let made: { readonly value: Value } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** The same for each of some whole numbers, from 0 on. */
export function memoBy<Value>(make: (number: number) => Value): (number: number) => Value {
  const made: Value[] = [];
  return (number) => {
    const known = made[number];
    if (known !== undefined) return known;
    const value = make(number);
    made[number] = value;
    return value;
  };
}
