// What is asked with every frame and changes with every event is worked out once: the one way to remember.

type Parts = readonly [anchor: object, ...rest: unknown[]];
type Kept<T> = { readonly rest: readonly unknown[]; readonly value: T };

/**
 * `make`, remembered as long as everything in `partsOf` is the very same. The first part is an object and holds the memory:
 * when nobody knows it any more, what was worked out from it goes with it. One result an anchor, the newest.
 */
export function memoBy<A extends readonly unknown[], T>(
  partsOf: (...args: A) => Parts,
  make: (...args: A) => T,
): (...args: A) => T {
  const memory = new WeakMap<object, Kept<T>>();
  return (...args) => {
    const [anchor, ...rest] = partsOf(...args);
    const known = memory.get(anchor);
    if (known?.rest.every((part, at) => Object.is(part, rest[at]))) return known.value;
    const value = make(...args);
    memory.set(anchor, { rest, value });
    return value;
  };
}
