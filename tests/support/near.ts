// A computed figure against a published one: the tolerance is said, as the source rounds it.
import { expect } from 'vitest';

/** Fails unless the value lies within the tolerance of what is published; what was not computed is not near anything. */
export const near = (value: number | undefined, expected: number, tolerance: number): void =>
  expect(Math.abs((value ?? Number.NaN) - expected)).toBeLessThanOrEqual(tolerance);
