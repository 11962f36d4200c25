// Rows 1, 5, 11, 12 of the card: a fault at every system call of every deed that writes.
import { expect, it } from 'vitest';
import { failedEverywhere, killedEverywhere, type PointsResult } from './points.ts';

function told(what: string, results: readonly PointsResult[]): void {
  const points = results.reduce((sum, one) => sum + one.points, 0);
  const each = results.map((one) => `${one.name} ${one.points}`).join(', ');
  process.stdout.write(`\n${what}: ${points} points (${each})\n`);
  expect(results.flatMap(({ bad }) => bad)).toEqual([]);
  expect(results.filter((one) => one.points === 0)).toEqual([]);
}

it('killed at every call: the old books or the new ones', () => told('kill -9', killedEverywhere()));
it('EIO at every call', () => told('EIO', failedEverywhere('EIO')));
it('ENOSPC at every call', () => told('ENOSPC', failedEverywhere('ENOSPC')));
