// What matched, best first: a shelf for each score, and on it what is poured most before the rest in its own order.

export type Indexed<T> = {
  readonly value: T;
  readonly place: number;
  readonly names: readonly string[];
  /** Words of the names, and the initials of the main name. */
  readonly starts: readonly string[];
  readonly all: string;
  /** The same with a space before it, so that each word stands behind one. */
  readonly spaced: string;
  /** Names and starts each on a line of its own: one look tells whether any begins so. */
  readonly nameLines: string;
  readonly startLines: string;
};

export type Scored<T> = { readonly value: T; readonly score: number };

/** Which of them are wanted, and how many at most: of ten thousand sours nobody reads more than a thousand. */
export type Only<T> = { readonly most: number; readonly isWanted: ((value: T) => boolean) | null };
/**
 * Best first; what matches equally well by weight, then in its own order. Most of a large house is never poured, so only what has a
 * weight is sorted.
 */
export class Shelves<T> {
  readonly #weight: (value: T) => number;
  readonly #shelves = new Map<
    number,
    { weighed: { entry: Indexed<T>; weight: number }[]; rest: Indexed<T>[] }
  >();

  constructor(weight: (value: T) => number) {
    this.#weight = weight;
  }

  get isEmpty(): boolean {
    return this.#shelves.size === 0;
  }

  put(entry: Indexed<T>, score: number): void {
    let shelf = this.#shelves.get(score);
    if (shelf === undefined) {
      shelf = { weighed: [], rest: [] };
      this.#shelves.set(score, shelf);
    }
    const weight = this.#weight(entry.value);
    if (weight > 0) shelf.weighed.push({ entry, weight });
    else shelf.rest.push(entry);
  }

  all({ most, isWanted }: Only<T>): Scored<T>[] {
    const scored: Scored<T>[] = [];
    const take = ({ value }: Indexed<T>, score: number): boolean => {
      if (isWanted === null || isWanted(value)) scored.push({ value, score });
      return scored.length < most;
    };
    for (const [score, { weighed, rest }] of [...this.#shelves].sort(([a], [b]) => a - b)) {
      weighed.sort((a, b) => b.weight - a.weight || a.entry.place - b.entry.place);
      if (!weighed.every(({ entry }) => take(entry, score))) return scored;
      if (!inPlace(rest).every((entry) => take(entry, score))) return scored;
    }
    return scored;
  }
}

/** Entries in the order of the index; most lists are in it already. */
function inPlace<T>(entries: Indexed<T>[]): Indexed<T>[] {
  const isInOrder = entries.every(
    (entry, index) => index === 0 || (entries[index - 1]?.place ?? 0) < entry.place,
  );
  return isInOrder ? entries : entries.sort((a, b) => a.place - b.place);
}
