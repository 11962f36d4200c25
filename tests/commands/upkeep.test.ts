// Checks that run when they are named: an open shift and an old count are no fault of the books.
import { expect, it } from 'vitest';
import { stocked } from '../support/night.ts';

it('a shift that was never sealed, and counts that are older than ten days', async () => {
  const night = await stocked();
  expect(await night.run('check unsealed stale-count')).toMatchObject({ exit: 0, out: '' });
  night.later(20 * 60 + 1);
  expect(await night.run('check unsealed stale-count')).toMatchObject({
    exit: 1,
    out: expect.stringContaining('open for more than 20 hours'),
  });
  night.later(10 * 24 * 60);
  const { out } = await night.run('check stale-count');
  expect(out).toContain('dry-gin at bar has not been counted for more than 10 days');
  expect(await night.run('check')).toMatchObject({ exit: 0, out: '' });
});
