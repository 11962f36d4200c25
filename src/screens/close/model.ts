// The Close room's state and rows: the report of the books as they are, with what stands beside it.

import { closingReport } from '../../domain/report/closing.ts';
import { withEvidence } from '../../domain/report/evidence.ts';
import { byWeight } from '../../domain/report/order.ts';
import type { Report, ReportItem, TillRow } from '../../domain/report/report.ts';
import { memoBy } from '../../domain/value/memo.ts';
import type { Scene } from '../room.ts';

export type CloseState = {
  readonly cursor: number;
  /** The list of items, or the till beside the tally. */
  readonly page: 'items' | 'till';
};

export const closeStart: CloseState = { cursor: 0, page: 'items' };

type Shown = { readonly report: Report | null; readonly rows: readonly ReportItem[] };

/** Worked out once for each state of the books and of the evidence; rows sorted by what matters. */
export const reportOf = memoBy(
  ({ books, evidence }: Pick<Scene, 'books' | 'evidence'>) => [books, evidence],
  ({ books, evidence }): Shown => {
    // A sealed shift is shown as its seal left it, whatever came into the books since.
    const base = evidence.sealed?.shift?.id === books.shift?.id ? (evidence.sealed ?? books) : books;
    const plain = closingReport(base);
    const own = new Set<string>(books.shift === null ? [] : [books.shift.id]);
    const report = plain === null ? null : withEvidence(plain, evidence, base, books, own);
    return { report, rows: report === null ? [] : [...report.items].sort(byWeight(books.house)) };
  },
);

export const tillOf = (scene: Scene): readonly TillRow[] => reportOf(scene).report?.till ?? [];

export const rowsOn = (scene: Scene, { page }: CloseState): number =>
  page === 'till' ? tillOf(scene).length : reportOf(scene).rows.length;
