// Random numbers with a seed (mulberry32), so that a simulated season is the same on every machine.

export type Random = { readonly uniform: () => number; readonly normal: () => number };

export function makeRandom(seed: number): Random {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let mixed = Math.imul(state ^ (state >>> 15), 1 | state);
    mixed = (mixed + Math.imul(mixed ^ (mixed >>> 7), 61 | mixed)) ^ mixed;
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 4294967296;
  };
  return {
    uniform,
    normal: () => Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform()),
  };
}

/** How many of n happen, each with probability p; n and p are small here. */
export function binomial(random: Random, n: number, p: number): number {
  let count = 0;
  for (let index = 0; index < n; index += 1) if (random.uniform() < p) count += 1;
  return count;
}

/** Poisson by multiplying (Knuth, Seminumerical Algorithms 3.4.1: from memory). */
export function poisson(random: Random, mean: number): number {
  const limit = Math.exp(-mean);
  let [count, product] = [0, random.uniform()];
  while (product > limit) {
    count += 1;
    product *= random.uniform();
  }
  return count;
}
