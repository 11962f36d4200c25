// Least squares by Householder QR, for checks of published regressions: the product itself solves by Cholesky.
import type { Matrix } from '../../src/domain/standard/cholesky.ts';

const at = (list: readonly number[], index: number): number => list[index] as number;
const cell = (matrix: Matrix, row: number, column: number): number =>
  (matrix[row] as readonly number[])[column] as number;

/**
 * Solves min |Xb − y| by Householder reflections.
 * @returns the coefficients, the residual sum of squares, and the inverse of R for standard deviations
 * @throws RangeError when the columns are not independent to working precision
 */
export function solveLeastSquares(
  x: Matrix,
  y: readonly number[],
): { coefficients: number[]; residualSquares: number; inverseR: number[][] } {
  const rows = x.length;
  const columns = x[0]?.length ?? 0;
  if (rows < columns || y.length !== rows) throw new RangeError('least squares: fewer rows than columns');
  const r = x.map((row) => [...row]);
  const b = [...y];
  const scale = Math.max(...x.flatMap((row) => row.map(Math.abs)), 0);
  for (let column = 0; column < columns; column += 1) reflect(r, b, column, scale);
  const inverseR = invertUpper(r, columns);
  const coefficients = inverseR.map((row) =>
    row.reduce((sum, value, index) => sum + value * at(b, index), 0),
  );
  const residualSquares = b.slice(columns).reduce((sum, value) => sum + value * value, 0);
  return { coefficients, residualSquares, inverseR };
}

/** One reflection: makes the column zero below its diagonal, and turns the right side along. */
function reflect(r: number[][], b: number[], column: number, scale: number): void {
  let norm = 0;
  for (let row = column; row < r.length; row += 1) norm = Math.hypot(norm, cell(r, row, column));
  if (norm <= 1e-13 * scale) throw new RangeError('least squares: the columns are not independent');
  const head = cell(r, column, column);
  const alpha = head > 0 ? -norm : norm;
  const v = r.slice(column).map((row) => at(row, column));
  v[0] = head - alpha;
  const length = v.reduce((sum, value) => sum + value * value, 0);
  const turn = (get: (row: number) => number, set: (row: number, value: number) => void): void => {
    let dot = 0;
    for (let index = 0; index < v.length; index += 1) dot += at(v, index) * get(column + index);
    const factor = (2 * dot) / length;
    for (let index = 0; index < v.length; index += 1)
      set(column + index, get(column + index) - factor * at(v, index));
  };
  const width = r[0]?.length ?? 0;
  for (let next = column; next < width; next += 1) {
    turn(
      (row) => cell(r, row, next),
      (row, value) => {
        (r[row] as number[])[next] = value;
      },
    );
  }
  turn(
    (row) => at(b, row),
    (row, value) => {
      b[row] = value;
    },
  );
}

function invertUpper(r: Matrix, size: number): number[][] {
  const inverse = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  for (let column = 0; column < size; column += 1) {
    for (let row = column; row >= 0; row -= 1) {
      let sum = row === column ? 1 : 0;
      for (let inner = row + 1; inner <= column; inner += 1)
        sum -= cell(r, row, inner) * cell(inverse, inner, column);
      (inverse[row] as number[])[column] = sum / cell(r, row, row);
    }
  }
  return inverse;
}
