// Covariances of one item's stretches: tridiagonal, since neighbours share a reading and nothing else. Its Cholesky factor has
// two diagonals; everything here takes time in proportion to the number of stretches.

export type Vector = Float64Array;

/** C = L L' with `pivot` on the diagonal of L and `low` beside it (`low[t]` in row t, column t − 1). */
export type Band = { readonly pivot: Vector; readonly low: Vector };

/** Factor of a tridiagonal covariance; `beside[t]` is the covariance of t with t − 1. */
export function factorBand(diagonal: Vector, beside: Vector): Band {
  const size = diagonal.length;
  const pivot = new Float64Array(size);
  const low = new Float64Array(size);
  for (let t = 0; t < size; t += 1) {
    const own = diagonal[t] as number;
    const left = t === 0 ? 0 : (beside[t] as number) / (pivot[t - 1] as number);
    low[t] = left;
    // What rounding leaves of a variance is never below a billionth of it.
    pivot[t] = Math.sqrt(Math.max(own * 1e-9, own - left * left));
  }
  return { pivot, low };
}

/** L⁻¹ v. */
export function whitenWith({ pivot, low }: Band, v: Vector): Vector {
  const out = new Float64Array(v.length);
  for (let t = 0; t < v.length; t += 1) {
    const before = t === 0 ? 0 : (low[t] as number) * (out[t - 1] as number);
    out[t] = ((v[t] as number) - before) / (pivot[t] as number);
  }
  return out;
}

/** C⁻¹ v. */
export function solveWith(band: Band, v: Vector): Vector {
  const out = whitenWith(band, v);
  for (let t = v.length - 1; t >= 0; t -= 1) {
    const after = t + 1 === v.length ? 0 : (band.low[t + 1] as number) * (out[t + 1] as number);
    out[t] = ((out[t] as number) - after) / (band.pivot[t] as number);
  }
  return out;
}

/** The diagonal of C⁻¹ and the one beside it (`beside[t]` belongs to t and t + 1): from L' C⁻¹ = L⁻¹, backwards. */
export function inverseBand({ pivot, low }: Band): { diagonal: Vector; beside: Vector } {
  const size = pivot.length;
  const diagonal = new Float64Array(size);
  const beside = new Float64Array(size);
  for (let t = size - 1; t >= 0; t -= 1) {
    const own = pivot[t] as number;
    const next = t + 1 === size ? 0 : (low[t + 1] as number);
    const after = t + 1 === size ? 0 : (diagonal[t + 1] as number);
    diagonal[t] = (1 + next * next * after) / (own * own);
    beside[t] = (-next * after) / own;
  }
  return { diagonal, beside };
}

export function dot(a: Vector, b: Vector): number {
  let sum = 0;
  for (let t = 0; t < a.length; t += 1) sum += (a[t] as number) * (b[t] as number);
  return sum;
}
