// Positive definite systems by Cholesky: what the fits of the drift stand on.

export type Matrix = readonly (readonly number[])[];
const at = (list: readonly number[], index: number): number => list[index] as number;
const cell = (matrix: Matrix, row: number, column: number): number =>
  (matrix[row] as readonly number[])[column] as number;

/** Lower triangle L with L L' = a. @throws RangeError when `a` is not positive definite */
export function cholesky(a: Matrix): number[][] {
  const size = a.length;
  const lower = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (let row = 0; row < size; row += 1) {
    const mine = lower[row] as number[];
    for (let column = 0; column <= row; column += 1) {
      const other = lower[column] as number[];
      let sum = cell(a, row, column);
      for (let inner = 0; inner < column; inner += 1) sum -= at(mine, inner) * at(other, inner);
      if (row === column) {
        if (!(sum > 0)) throw new RangeError('cholesky: not positive definite');
        mine[row] = Math.sqrt(sum);
      } else mine[column] = sum / at(other, column);
    }
  }
  return lower;
}

/** Solves L L' x = b. */
export function solveCholesky(lower: Matrix, b: readonly number[]): number[] {
  const size = lower.length;
  const x = [...b];
  for (let row = 0; row < size; row += 1) {
    let sum = at(x, row);
    for (let inner = 0; inner < row; inner += 1) sum -= cell(lower, row, inner) * at(x, inner);
    x[row] = sum / cell(lower, row, row);
  }
  for (let row = size - 1; row >= 0; row -= 1) {
    let sum = at(x, row);
    for (let inner = row + 1; inner < size; inner += 1) sum -= cell(lower, inner, row) * at(x, inner);
    x[row] = sum / cell(lower, row, row);
  }
  return x;
}

/** The inverse of L L'. */
export function invertCholesky(lower: Matrix): number[][] {
  return lower.map((_, column) =>
    solveCholesky(
      lower,
      lower.map((__, row) => (row === column ? 1 : 0)),
    ),
  );
}

/** log |L L'|. */
export const logDeterminant = (lower: Matrix): number =>
  2 * lower.reduce((sum, row, index) => sum + Math.log(at(row, index)), 0);
