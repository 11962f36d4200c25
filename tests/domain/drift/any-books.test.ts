// Whatever was recorded, the report stands: no exception, no figure that is none.
import fc from 'fast-check';
import { expect, it } from 'vitest';
import { driftReport } from '../../../src/domain/drift/drift-report.ts';
import { emptyBooks, type ShiftBooks } from '../../../src/domain/ledger/books.ts';
import { foldInOrder } from '../../../src/domain/ledger/ledger.ts';
import { driftJson, driftText } from '../../../src/exchange/print/drift-text.ts';
import { nights } from '../../support/events.ts';

const isSound = (value: unknown): boolean =>
  typeof value === 'number'
    ? Number.isFinite(value)
    : value === null || typeof value !== 'object' || Object.values(value).every(isSound);

it('of any list of events there is a report, and every figure in it is one', () => {
  fc.assert(
    fc.property(nights(80), (events) => {
      const shifts: ShiftBooks[] = [];
      const books = foldInOrder(emptyBooks, events, (event, now) => {
        if (event.kind === 'shift-sealed') shifts.push(now().shift as ShiftBooks);
      });
      const report = driftReport(books, shifts);
      expect(isSound(driftJson(report, books))).toBe(true);
      expect(driftText(report, books)).toContain(`Over ${shifts.length} shifts`);
    }),
    { numRuns: 150 },
  );
});
