// The Close room's state and rows: the report of the books as they are, or of a night or stretch that was asked for.

import { closingReport } from '../../domain/report/closing.ts';
import { withEvidence } from '../../domain/report/evidence.ts';
import { type Lead, leadOf } from '../../domain/report/lead.ts';
import type { Report, ReportItem, TillRow } from '../../domain/report/report.ts';
import { memoBy } from '../../domain/value/memo.ts';
import type { Scene } from '../room.ts';

export type CloseState = {
  readonly cursor: number;
  /** The list of items, or the till beside the tally. */
  readonly page: 'items' | 'till';
  /** Everything that was counted, not only what is put forward. */
  readonly isWhole: boolean;
};

export const closeStart: CloseState = { cursor: 0, page: 'items', isWhole: false };

type Shown = { readonly report: Report | null; readonly lead: Lead | null };
const nothing: Shown = { report: null, lead: null };

/** The report of the books as they are. Worked out once for each state of the books and of the evidence. */
const ofNow = memoBy(
  ({ books, evidence }: Pick<Scene, 'books' | 'evidence'>) => [books, evidence],
  ({ books, evidence }): Shown => {
    // A sealed shift is shown as its seal left it, whatever came into the books since.
    const base = evidence.sealed?.shift?.id === books.shift?.id ? (evidence.sealed ?? books) : books;
    const plain = closingReport(base);
    if (plain === null) return nothing;
    const own = new Set<string>(books.shift === null ? [] : [books.shift.id]);
    const report = withEvidence(plain, evidence, base, books, own);
    return { report, lead: leadOf(report, books.house) };
  },
);

const ofPast = memoBy(
  (past: Report, { house }: Scene['books']) => [past, house],
  (past, { house }): Shown => ({ report: past, lead: leadOf(past, house) }),
);

/** What is shown: a past night or stretch when one was asked for, else the night the books are at. */
export const reportOf = (scene: Pick<Scene, 'books' | 'evidence' | 'past'>): Shown =>
  scene.past === null ? ofNow(scene) : ofPast(scene.past, scene.books);

/** A row of the list: an item, or the line that stands for those which are folded away. */
export type CloseRow = { readonly item: ReportItem } | { readonly folded: number };

/** What is put forward, what may be chance, and the rest: folded to a line unless all is asked for. */
export function closeRows(scene: Scene, { isWhole }: CloseState): readonly CloseRow[] {
  const { lead } = reportOf(scene);
  if (lead === null) return [];
  const first = [...lead.improbable, ...lead.real, ...lead.perhaps];
  const rest = [...lead.within, ...lead.notCounted, ...lead.firstCounted];
  const asRows = (rows: readonly ReportItem[]): CloseRow[] => rows.map((item) => ({ item }));
  if (rest.length === 0) return asRows(first);
  // Where nothing is judged yet a fold would hide everything there is.
  return isWhole || lead.within.length + first.length === 0
    ? asRows([...first, ...rest])
    : [...asRows(first), { folded: rest.length }];
}

export const tillOf = (scene: Scene): readonly TillRow[] => reportOf(scene).report?.till ?? [];

export const rowsOn = (scene: Scene, state: CloseState): number =>
  state.page === 'till' ? tillOf(scene).length : closeRows(scene, state).length;
