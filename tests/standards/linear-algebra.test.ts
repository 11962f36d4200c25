// Least squares. NIST StRD certified values for Norris, NoInt1, NoInt2 and Longley (published, seen second-hand; all
// reproduced in exact rational arithmetic). Longley rows: first and last published, the rest from memory and proved by
// reproducing every certified digit. BLUP: Robinson, Statist. Sci. 6, 1991, dairy example (data and answers from memory).
import { describe, expect, it } from 'vitest';
import { cholesky, invertCholesky, solveCholesky } from '../../src/domain/standard/cholesky.ts';
import { solveLeastSquares } from '../support/qr.ts';

const rel = (value: number | undefined, expected: number, tolerance: number): void =>
  expect(Math.abs((value ?? Number.NaN) / expected - 1)).toBeLessThanOrEqual(tolerance);
const sdOf = (inverseR: readonly (readonly number[])[], row: number, residual: number): number =>
  residual * Math.hypot(...(inverseR[row] as number[]));

const norris =
  `0.1 0.2|338.8 337.4|118.1 118.2|888.0 884.6|9.2 10.1|228.1 226.5|668.5 666.3|998.5 996.3|449.1 448.6|778.9 777.0|559.2 558.2|0.3 0.4|0.1 0.6|778.1 775.5|668.8 666.9|339.3 338.0|448.9 447.5|10.8 11.6|557.7 556.0|228.3 228.1|998.0 995.8|888.8 887.6|119.6 120.2|0.3 0.3|0.6 0.3|557.6 556.8|339.3 339.1|888.0 887.2|998.5 999.0|778.9 779.0|10.2 11.1|117.6 118.3|228.9 229.2|668.4 669.1|449.2 448.9|0.2 0.5`
    .split('|')
    .map((pair) => pair.split(' ').map(Number) as [number, number]);

const longley =
  `60323 83.0 234289 2356 1590 107608 1947|61122 88.5 259426 2325 1456 108632 1948|60171 88.2 258054 3682 1616 109773 1949|61187 89.5 284599 3351 1650 110929 1950|63221 96.2 328975 2099 3099 112075 1951|63639 98.1 346999 1932 3594 113270 1952|64989 99.0 365385 1870 3547 115094 1953|63761 100.0 363112 3578 3350 116219 1954|66019 101.2 397469 2904 3048 117388 1955|67857 104.6 419180 2822 2857 118734 1956|68169 108.4 442769 2936 2798 120445 1957|66513 110.8 444546 4681 2637 121950 1958|68655 112.6 482704 3813 2552 123366 1959|69564 114.2 502601 3931 2514 125368 1960|69331 115.7 518173 4806 2572 127852 1961|70551 116.9 554894 4007 2827 130081 1962`
    .split('|')
    .map((row) => row.split(' ').map(Number));

describe('NIST StRD', () => {
  it('Norris', () => {
    const fit = solveLeastSquares(
      norris.map(([, x]) => [1, x]),
      norris.map(([y]) => y),
    );
    rel(fit.coefficients[0], -0.262323073774029, 1e-11);
    rel(fit.coefficients[1], 1.00211681802045, 1e-13);
    rel(fit.residualSquares, 26.6173985294224, 1e-10);
    const residual = Math.sqrt(fit.residualSquares / 34);
    rel(sdOf(fit.inverseR, 0, residual), 0.232818234301152, 1e-10);
    rel(sdOf(fit.inverseR, 1, residual), 0.429796848199937e-3, 1e-10);
  });
  it('NoInt1 and NoInt2', () => {
    const one = solveLeastSquares(
      Array.from({ length: 11 }, (_, i) => [60 + i]),
      Array.from({ length: 11 }, (_, i) => 130 + i),
    );
    rel(one.coefficients[0], 2.07438016528926, 1e-13);
    rel(one.residualSquares, 127.272727272727, 1e-12);
    rel(sdOf(one.inverseR, 0, Math.sqrt(one.residualSquares / 10)), 0.0165289256198347, 1e-12);
    const two = solveLeastSquares([[4], [5], [6]], [3, 4, 4]);
    rel(two.coefficients[0], 0.727272727272727, 1e-13);
  });

  const certified = [
    -3482258.63459582, 15.0618722713733, -0.035819179292591, -2.02022980381683, -1.03322686717359,
    -0.0511041056535807, 1829.15146461355,
  ];
  const x = longley.map((row) => [1, ...row.slice(1)]);
  const y = longley.map((row) => row[0] as number);
  it('Longley by QR: every coefficient to 1e-9', () => {
    const fit = solveLeastSquares(x, y);
    certified.forEach((value, index) => {
      rel(fit.coefficients[index], value, 1e-9);
    });
    rel(Math.sqrt(fit.residualSquares / 9), 304.854073561965, 1e-10);
  });
  it('the normal equations fail there: that is why they are not used', () => {
    const normal = certified.map((_, i) =>
      certified.map((__, j) => x.reduce((sum, row) => sum + (row[i] as number) * (row[j] as number), 0)),
    );
    const right = certified.map((_, i) =>
      x.reduce((sum, row, k) => sum + (row[i] as number) * (y[k] as number), 0),
    );
    let worst = Number.POSITIVE_INFINITY;
    try {
      worst = Math.max(
        ...solveCholesky(cholesky(normal), right).map((value, index) =>
          Math.abs(value / (certified[index] as number) - 1),
        ),
      );
    } catch {
      // not positive definite to working precision: failed outright
    }
    expect(worst).toBeGreaterThan(1e-9);
  });
  it('columns that depend on each other are refused, not solved', () =>
    expect(() =>
      solveLeastSquares(
        [
          [200, 200],
          [300, 300],
          [100, 100],
        ],
        [24, 36, 12],
      ),
    ).toThrow(RangeError));
});

describe('Cholesky', () => {
  it('solves and inverts', () => {
    const a = [
      [4, 2, 0.6],
      [2, 5, 1],
      [0.6, 1, 3],
    ];
    const lower = cholesky(a);
    const inverse = invertCholesky(lower);
    for (const [i, row] of a.entries()) {
      for (const j of inverse.keys()) {
        expect(
          row.reduce((sum, value, k) => sum + value * ((inverse[k] as number[])[j] as number), 0),
        ).toBeCloseTo(i === j ? 1 : 0, 12);
      }
    }
    expect(() =>
      cholesky([
        [1, 2],
        [2, 1],
      ]),
    ).toThrow(RangeError);
  });
  it('BLUP, the dairy example: herds 105.64, 104.28, 105.46; sires 0.40, 0.52, 0.76, −1.67', () => {
    const yields: [number, number, number][] = [
      [0, 0, 110],
      [0, 3, 100],
      [1, 1, 110],
      [1, 3, 100],
      [1, 3, 100],
      [2, 2, 110],
      [2, 2, 110],
      [2, 3, 100],
      [2, 3, 100],
    ];
    const size = 7;
    const a = Array.from({ length: size }, () => new Array<number>(size).fill(0));
    const b = new Array<number>(size).fill(0);
    for (const [herd, sire, value] of yields) {
      for (const i of [herd, 3 + sire]) {
        b[i] = (b[i] as number) + value;
        for (const j of [herd, 3 + sire]) (a[i] as number[])[j] = ((a[i] as number[])[j] as number) + 1;
      }
    }
    for (let sire = 3; sire < size; sire += 1)
      (a[sire] as number[])[sire] = ((a[sire] as number[])[sire] as number) + 10;
    const solution = solveCholesky(cholesky(a), b);
    [105.6387, 104.2757, 105.4584, 0.3965, 0.5204, 0.7569, -1.6738].forEach((value, index) => {
      expect(Math.abs((solution[index] as number) - value)).toBeLessThan(5.1e-5);
    });
  });
});
