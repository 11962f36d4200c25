// Notes: on a shift and on an item, also after the seal.
import { describe, expect, it } from 'vitest';
import type { Report } from '../../src/domain/report/report.ts';
import { sealed } from '../support/night.ts';

describe('a sealed report', () => {
  it('carries notes, on the shift and on an item', async () => {
    const night = await sealed();
    await night.ok('note', 'ice machine out from nine', '--by', 'Ines');
    await night.ok('note', 'two bottles lent out', '--item', 'dry gin', '--shift', '2026-11-20');
    expect((await night.json<Report>('report')).notes).toMatchObject([
      { text: 'ice machine out from nine', by: 'Ines', item: null },
      { text: 'two bottles lent out', item: 'dry-gin' },
    ]);
    expect(await night.ok('report')).toContain('ice machine out from nine');
  });
});
